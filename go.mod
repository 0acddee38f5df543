module gaugebook.dev

go 1.26.8

require (
	github.com/agnivade/levenshtein v1.2.2 // indirect
	github.com/inconshreveable/mousetrap v1.1.0 // indirect
	github.com/spf13/cobra v1.10.2 // indirect
	github.com/spf13/pflag v1.0.9 // indirect
	go.yaml.in/yaml/v3 v3.0.6 // indirect
	google.golang.org/protobuf v1.36.12 // indirect
)

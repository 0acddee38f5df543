module gaugebook.dev

go 1.26.8

require (
	github.com/agnivade/levenshtein v1.2.2
	github.com/mitchellh/go-wordwrap v1.0.1
	github.com/spf13/cobra v1.10.2
	go.yaml.in/yaml/v3 v3.0.6
	google.golang.org/grpc v1.85.0
	google.golang.org/protobuf v1.36.12
)

require (
	github.com/inconshreveable/mousetrap v1.1.0 // indirect
	github.com/spf13/pflag v1.0.9 // indirect
	golang.org/x/net v0.60.0 // indirect
	golang.org/x/sys v0.48.0 // indirect
	golang.org/x/text v0.42.0 // indirect
	google.golang.org/genproto/googleapis/rpc v0.0.0-20260817212433-ac3dfec99bb1 // indirect
)

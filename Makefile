# Gaugebook's chores, each by one name; `make` alone lists them.
#
# Tools are pinned here, built once into the user's cache folder and never part
# of go.mod: the tree holds what people wrote and what is generated from it.

ifeq ($(filter oneshell,$(.FEATURES)),)
$(error GNU make 3.82 or later is needed)
endif

SHELL := bash
.SHELLFLAGS := -euo pipefail -c
.ONESHELL:
.NOTPARALLEL:
.DEFAULT_GOAL := help

buf_version := v1.75.0
golangci_version := v2.15.0

cache := $(shell echo "$${XDG_CACHE_HOME:-$$HOME/.cache}")/gaugebook
tools := $(cache)/tools-$(shell go env GOVERSION 2>/dev/null)
buf := $(tools)/$(buf_version)/buf
golangci := $(tools)/$(golangci_version)/golangci-lint

# Set this to yes with v1.0.0: then the image stays that of the last release, and
# lint fails where the contract breaks it. `make image` belongs to a release.
contract_frozen :=

image := testdata/contract/image.binpb
write_image = $(buf) build proto --exclude-source-info
rows := server/book/rows

# What `make test` runs, in this order, each with the seconds that it is wished to
# take on two cores; 20 minutes together. Longer is told at the end and fails
# nothing: a busy machine with empty caches compiles and downloads for minutes. Only
# what hangs is ended, long after.
suites := \
	setup=50 \
	go-test=320 \
	go-test-v3=80 \
	tools=240 \
	lint=60 \
	verify-generate=30 \
	verify-breaking=10 \
	follower=60 \
	web=60 \
	android=180 \
	verify-reference=50 \
	fuzz-short=120

# Properties are tried with visits drawn by this seed: that of the commit, so that the
# run of a commit repeats, and any other by `make test seed=7`.
seed ?= $(shell printf '%d' 0x$$(git rev-parse --short=7 HEAD 2>/dev/null || echo 1b))
drawing := $(shell grep -rl --include='*_test.go' '"pgregory.net/rapid"' . | xargs -n 1 dirname | sort -u)

# Where allocations are counted: without the race detector, under which a sync.Pool drops
# at random what it is given.
counting := $(shell grep -rl --include='*_test.go' 'testing.AllocsPerRun' . | xargs -n 1 dirname | sort -u)

# What `make faults` draws: by which seed, how many, and from which places.
SEED ?= 1
N ?= 67
ONLY ?=

# What `make soak` draws, of each property with each seed.
soak_seeds ?= $(shell seq 1 20)
soak_draws ?= 2000

.PHONY: help generate verify-generate lint fix test soak rates faults bench fuzz-short \
	reference verify-reference image breaking follower web android setup go-test go-test-v3 tools \
	verify-breaking

help: ## List the targets
	@awk -F ':.*## ' '/^[a-z-]+:.*## / {printf "%-18s%s\n", $$1, $$2}' $(MAKEFILE_LIST)

generate: $(buf) ## Generate from the contract and the book's rows: Go, routes, documents, an image
	@$(buf) generate
	$(buf) generate --template $(rows)/buf.gen.yaml
	[ -n "$(contract_frozen)" ] || $(write_image) --output $(image)

# Generated beside the tree, so that no change in the tree stands in the way.
verify-generate: $(buf) ## Fail where generated code is not what the contract gives
	@fresh=$$(mktemp -d)
	trap 'rm -rf "$$fresh"' EXIT
	$(buf) generate --output "$$fresh"
	$(buf) generate --template $(rows)/buf.gen.yaml --output "$$fresh"
	here=$$(find . -name '*.pb.go' -o -name '*.pb.gw.go' -o -name '*.swagger.json')
	if [ -z "$(contract_frozen)" ]; then
		mkdir -p "$$fresh/$(dir $(image))"
		$(write_image) --output "$$fresh/$(image)"
	fi
	there=$$(cd "$$fresh" && find . -type f)
	status=0
	for file in $$(sort -u <<<"$$here"$$'\n'"$$there"); do
		if ! cmp -s "$$file" "$$fresh/$$file"; then
			echo "differs from what the contract gives: $$file" >&2
			status=1
		fi
	done
	[ $$status = 0 ] || { echo "run: make generate" >&2; exit 1; }
	echo "the generated code is what the contract gives"

image: $(buf) ## Write the image of the contract that later ones must not break
	@$(write_image) --output $(image)

breaking: $(buf) ## Fail where the contract breaks clients made from its image
	@$(buf) breaking proto --against $(image)

lint: $(golangci) $(buf) ## Read the code, the contract and go.mod with a critic's eye
	@status=0
	$(golangci) run ./... || status=1
	$(buf) lint || status=1
	[ -z "$(contract_frozen)" ] || $(buf) breaking proto --against $(image) || status=1
	go mod tidy -diff || status=1
	exit $$status

fix: $(golangci) ## Mend what lint can mend by itself
	@go mod tidy
	$(golangci) run --fix ./...

# A suite that fails does not keep the next ones from running.
test: ## Set up all that is needed and run every suite
	@echo "=== properties by seed $(seed)"
	failed=() slow=()
	said=$$(mktemp -d)
	trap 'rm -rf "$$said"' EXIT
	for suite in $(suites); do
		name=$${suite%=*} wished=$${suite#*=} start=$$SECONDS
		limit=$$((5 * wished + 240))
		echo "=== $$name: $$wished s, ended if it hangs for $$limit s"
		timeout --kill-after=10 "$$limit" $(MAKE) --no-print-directory "$$name" > >(tee "$$said/$$name") 2>&1 &
		trap "kill $$! && exit 130" INT TERM
		status=0
		wait $$! || status=$$?
		took=$$((SECONDS - start))
		outcome=passed
		[ $$status = 0 ] || outcome=FAILED
		[[ $$status != 124 && $$status != 137 ]] || outcome="FAILED, hung"
		[ $$status = 0 ] || failed+=("$$name")
		[ $$took -le $$wished ] || slow+=("$$name: $$took s, wished for $$wished s")
		echo "=== $$name: $$outcome, $$took s"
	done
	[ $${#slow[@]} = 0 ] || printf '=== longer than wished: %s\n' "$${slow[@]}"
	if [ $${#failed[@]} != 0 ]; then
		for name in "$${failed[@]}"; do
			echo "=== what $$name said"
			grep -E '^ *--- FAIL|^FAIL|panic:|ERROR|FAILURE|Error |rror:' "$$said/$$name" | head -n 40 || true
			echo "=== and last"
			tail -n 25 "$$said/$$name"
		done
		echo "=== test: FAILED in $${failed[*]}, $$SECONDS s"
		exit 1
	fi
	echo "=== test: all suites passed, $$SECONDS s"

# The tests that draw are those that say so: each runs with each seed, and a failure
# does not keep the next ones from running.
soak: ## Try every property with 2,000 draws of each of 20 seeds, and the store; hours on two cores
	@failed=()
	GAUGEBOOK_ROT=500 GAUGEBOOK_KILLS=300 go test -count 1 -timeout 0 -v -run 'RotIsNoticed|KilledProcess' ./server/history/badger ||
		failed+=("rot and kills of the store")
	GAUGEBOOK_KILLS=300 go test -count 1 -timeout 0 -v -run KilledServer ./server/app || failed+=("kills of the server")
	for folder in $(drawing); do
		names=$$(awk '/^func Test/ {sub(/^func /, ""); sub(/\(.*/, ""); name = $$0} /rapid\.Check\(/ {print name}' "$$folder"/*_test.go | sort -u | paste -sd '|')
		program=$$(mktemp)
		go test -c -o "$$program" "$$folder"
		for seed in $(soak_seeds); do
			(cd "$$folder" && "$$program" -test.run "^($$names)\$$" -test.timeout 0 -rapid.checks $(soak_draws) -rapid.seed "$$seed" -rapid.nofailfile) ||
				failed+=("$$folder by seed $$seed")
		done
		rm -f "$$program"
	done
	[ $${#failed[@]} = 0 ] || { printf '=== soak: FAILED: %s\n' "$${failed[@]}"; exit 1; }
	echo "=== soak: all properties held"

rates: ## Draw the published error rates in full and write their page; many minutes
	@go test -timeout 90m -run ErrorRates ./calc/verdict ./calc/trend -update

# What each draws and from what stands in its README.
faults: ## Draw single faults in what judges, SEED=n, and tell whether a test notices
	@go run ./testdata/faults -seed "$(SEED)" -n "$(N)" -only "$(ONLY)"

bench: ## Run the benchmarks
	@go test -run '^$$' -bench . -benchmem ./...

# An input that reaches new code is made smaller for a moment only: by default for a
# minute, in which a target of large documents runs nothing else.
fuzz-short: ## Fuzz each fuzz target for three seconds
	@folders=$$(grep -rl --include='*_test.go' '^func Fuzz' . | xargs -n 1 dirname | sort -u) ||
		{ echo "no fuzz target found" >&2; exit 1; }
	for folder in $$folders; do
		list=$$(go test -list '^Fuzz' "$$folder") || { echo "$$list" >&2; exit 1; }
		for target in $$(grep '^Fuzz' <<<"$$list"); do
			echo "--- $$folder $$target"
			go test -run '^$$' -fuzz "^$$target\$$" -fuzztime 3s -fuzzminimizetime 10x "$$folder"
		done
	done

reference: ## Compute the reference tables with libraries that are not ours
	@$(with_reference_libraries)
	"$$python" testdata/reference/make_reference.py

verify-reference: ## Fail where a committed reference table differs from the libraries
	@$(with_reference_libraries)
	"$$python" testdata/reference/make_reference.py --check
	echo "the reference tables are what the libraries give"

follower: ## Hold a follower of the feed in Python, written from README alone, to the server
	@go vet -tags follower ./server/app
	go test -tags follower -run '^TestAFollowerInAnotherLanguage$$' ./server/app

web: $(buf) ## Hold the TypeScript client and the OpenAPI document to their tests
	@program=$$(mktemp -d)
	trap 'rm -rf "$$program"' EXIT
	go build -o "$$program/gaugebook" .
	! grep -E '"resolved"|://' clients/web/package-lock.json ||
		{ echo "the lock file names hosts; run: npm run lock" >&2; exit 1; }
	rm -rf clients/web/gen clients/web/build
	$(again)
	again npm ci --prefix clients/web --silent --no-audit --no-fund
	$(buf) generate --template clients/web/buf.gen.yaml
	npm run --prefix clients/web --silent build
	GAUGEBOOK="$$program/gaugebook" npm test --prefix clients/web --silent

android: ## Build the Kotlin client for phones, tell its size and hold it to its tests
	@program=$$(mktemp -d)
	trap 'rm -rf "$$program"' EXIT
	go build -o "$$program/gaugebook" .
	rm -rf clients/android/target
	cd clients/android
	verify() { GAUGEBOOK="$$program/gaugebook" mvn --batch-mode --quiet "$$@" verify 2>&1 | tee "$$program/said"; }
	missing() { grep -qE 'Could not (transfer|resolve|find) |(could not|cannot) be resolved|[Ff]ailed to (resolve|fetch|read artifact)' "$$program/said"; }
	verify || { missing && sleep 5 && verify -U; } || { missing && sleep 20 && verify -U; }

# What is downloaded may fail to come, so it is asked for three times. Tests never are:
# one that fails at times has failed.
define again
again() { for pause in 5 20 ""; do if "$$@"; then return; fi; [ -z "$$pause" ] || sleep "$$pause"; done; return 1; }
endef

# Sets $python to a Python that has the libraries of requirements.txt; made once
# for each content of that file and each Python.
define with_reference_libraries
key=$$({ python3 --version && cat testdata/reference/requirements.txt; } | sha256sum | cut -c 1-12)
venv="$(cache)/reference-$$key"
python="$$venv/bin/python"
if [ ! -e "$$venv/complete" ]; then
	rm -rf "$$venv"
	python3 -m venv "$$venv"
	$(again)
	again "$$python" -m pip install --quiet --requirement testdata/reference/requirements.txt
	touch "$$venv/complete"
fi
endef

# Below: suites of `make test` that nobody needs to call by hand.

# The race detector needs a C compiler, the reference tables a Python with venv,
# the TypeScript client node and npm, the Kotlin client Java and Maven.
setup:
	@$(again)
	command -v go >/dev/null || { echo "Go is missing; go.mod says which version" >&2; exit 1; }
	packages=()
	python3 -c 'import ensurepip, venv' 2>/dev/null || packages+=(python3 python3-venv)
	command -v "$$(go env CC)" >/dev/null || packages+=(gcc libc6-dev)
	command -v node >/dev/null || packages+=(nodejs)
	command -v npm >/dev/null || packages+=(npm)
	command -v javac >/dev/null || packages+=(openjdk-17-jdk-headless)
	command -v mvn >/dev/null || packages+=(maven)
	if [ $${#packages[@]} != 0 ]; then
		command -v apt-get >/dev/null || { echo "please install: $${packages[*]}" >&2; exit 1; }
		as_root=
		[ "$$(id -u)" = 0 ] || as_root=sudo
		again $$as_root apt-get update -qq
		again $$as_root apt-get install -y -qq --no-install-recommends "$${packages[@]}"
	fi
	again go mod download
	go version
	python3 --version
	"$$(go env CC)" --version | head -n 1
	echo "node $$(node --version)"
	javac -version

# calc starts no goroutine (server/app/rooms_test.go), so its own tests have
# nothing to race with; the rooms above it race with it compiled in. Nor does
# server/judge: one of its tests judges drawn visits side by side, and that one
# races here, as do both doors.
go-test:
	@profile=$$(mktemp)
	trap 'rm -f "$$profile"*' EXIT
	go vet ./...
	drawing=$$(go list $(drawing))
	calc=$$(go list ./calc/... ./server/judge)
	rest=$$(go list ./... | grep -vxF "$$calc")
	tested() { part=$$1; shift; go test -shuffle=on -covermode=atomic -coverprofile="$$profile.$$part" "$$@"; }
	export CGO_ENABLED=1
	tested calc $$(grep -vxF "$$drawing" <<<"$$calc")
	tested calc-drawn $$(grep -xF "$$drawing" <<<"$$calc") -rapid.seed=$(seed)
	tested rest -race $$(grep -vxF "$$drawing" <<<"$$rest")
	tested rest-drawn -race $$(grep -xF "$$drawing" <<<"$$rest") -rapid.seed=$(seed)
	go test -race -run '^TestEqualInEqualOut$$' ./server/judge -rapid.seed=$(seed)
	go test -run Allocat $(counting)
	{ head -n 1 "$$profile.calc"; tail -q -n +2 "$$profile".*; } | sed '/\.pb\.go:/d; /\.pb\.gw\.go:/d' > "$$profile"
	go tool cover -func="$$profile" |
		awk 'END {print "statements run by tests of their own package, generated code left out: " $$NF}'

# At this level the compiler fuses multiplications with additions, which changes
# the last bits of a product: answers must not change with them.
go-test-v3:
	@if [ "$$(go env GOARCH)" != amd64 ] || ! grep -qsw avx2 /proc/cpuinfo; then
		echo "not run: this processor is not of the x86-64-v3 level"
		exit
	fi
	drawing=$$(go list $(drawing))
	GOAMD64=v3 go test $$(go list ./calc/... | grep -vxF "$$drawing")
	GOAMD64=v3 go test $$(go list ./calc/... | grep -xF "$$drawing") -rapid.seed=$(seed)
	GOAMD64=v3 go test -run Corpus ./server/judge

# While the contract may change freely, its image is always that of today and
# breaks nothing: a field taken away in a copy shows that breaking would be seen.
verify-breaking: $(buf)
	@copy=$$(mktemp -d)
	trap 'rm -rf "$$copy"' EXIT
	cp -r --parents buf.yaml proto $(rows) "$$copy"
	$(buf) breaking "$$copy/proto" --against $(image)
	sed -i '/  string shop_id = 1;/d' "$$copy"/proto/gaugebook/v1/shop_service.proto
	said=$$($(buf) breaking "$$copy/proto" --against $(image) 2>&1) &&
		{ echo "a contract without GetShopRequest.shop_id breaks nothing?" >&2; exit 1; }
	grep 'Previously present field "1" with name "shop_id" on message "GetShopRequest" was deleted' <<<"$$said"

tools: $(buf) $(golangci)

$(buf):
	@$(again)
	GOBIN="$(@D)" again go install github.com/bufbuild/buf/cmd/buf@$(buf_version)

$(golangci):
	@$(again)
	GOBIN="$(@D)" again go install github.com/golangci/golangci-lint/v2/cmd/golangci-lint@$(golangci_version)

#!/usr/bin/env bash
# Makes what is given away: the program for each machine a boat has, packed with its manual pages and completions, and
# SHA256SUMS. Needs go and git, nothing else.
#
#   testdata/release/make.sh DIR            pack into DIR, which must not be there yet
#   testdata/release/make.sh --twice DIR    pack, then build all again elsewhere without any cache, and compare the sums
#   TARGETS="linux/amd64" testdata/release/make.sh DIR
#
# The same commit and the same Go (go.mod has the oldest that serves; `go version -m` of a program tells its own) give
# the same bytes: no path, no user and no clock of the machine goes in. The date of everything is the commit's. From a
# checkout with changes the programs say so with --version.
set -euo pipefail
here=$(cd "$(dirname "$0")/../.." && pwd)

twice=
if [ "${1:-}" = --twice ]; then
  twice=1
  shift
fi
if [ $# != 1 ]; then
  echo "write: testdata/release/make.sh [--twice] DIR" >&2
  exit 64
fi
targets=${TARGETS:-linux/amd64 linux/arm64 linux/arm/6 darwin/amd64 darwin/arm64 windows/amd64}
mkdir "$1"
out=$(cd "$1" && pwd)
work=$(mktemp -d)
trap 'chmod -R u+w "$work"; rm -rf "$work"' EXIT

cd "$here"
SOURCE_DATE_EPOCH=$(git log -1 --format=%ct)
export SOURCE_DATE_EPOCH CGO_ENABLED=0 GOFLAGS=-trimpath
version=${VERSION:-$(git describe --tags --always)}

build() { # folder: the programs, each in a folder of its own
  local target os arch arm name
  for target in $targets; do
    IFS=/ read -r os arch arm <<<"$target"
    name=hoveshort-$version-$os-$arch${arm:+v$arm}
    mkdir -p "$1/$name"
    GOOS=$os GOARCH=$arch GOARM=${arm:-} go build -buildvcs=true -ldflags='-s -w' -o "$1/$name/" ./cmd/hoveshort
  done
}

# What goes beside is made by the program itself, once, for the machine that makes it.
beside() { # folder
  local shell dir
  go build -o "$work/hoveshort" ./cmd/hoveshort
  go test ./cmd/hoveshort -run TestManPages -man "$work/man" >/dev/null
  mkdir -p "$work/completions"
  "$work/hoveshort" completion bash >"$work/completions/hoveshort.bash"
  "$work/hoveshort" completion zsh >"$work/completions/_hoveshort"
  "$work/hoveshort" completion fish >"$work/completions/hoveshort.fish"
  "$work/hoveshort" completion powershell >"$work/completions/hoveshort.ps1"
  for dir in "$1"/*/; do
    cp -R LICENSE README.md "$work/man" "$work/completions" "$dir"
  done
}

build "$work/once"
beside "$work/once"
go run ./testdata/release "$work/once" "$out"
cat "$out/SHA256SUMS"

if [ -n "$twice" ]; then
  git clone -q "$here" "$work/elsewhere/other"
  git diff HEAD --binary | git -C "$work/elsewhere/other" apply --allow-empty
  git ls-files -z --others --exclude-standard | while IFS= read -r -d '' file; do
    mkdir -p "$work/elsewhere/other/$(dirname "$file")"
    cp "$file" "$work/elsewhere/other/$file"
  done
  cd "$work/elsewhere/other"
  export GOCACHE="$work/cache"
  build "$work/again"
  for program in "$work"/again/*/*; do
    cmp "$program" "$work/once/${program#"$work/again/"}"
  done
  echo "built again elsewhere: the same bytes"
fi

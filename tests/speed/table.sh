#!/usr/bin/env bash
# Measures everything in one run and prints one table. Takes some minutes, most
# of them building; needs Rust, and Python 3.10 or later with venv and pip.
set -euo pipefail
cd "$(dirname "$0")"

root=$(cd ../.. && pwd)
target=${CARGO_TARGET_DIR:-$PWD/target}
out=$target/table
mkdir -p "$out"

{
    if ! "$target/venv/bin/python" -c 'import pyagrum, pgmpy' 2>/dev/null; then
        python3 -m venv "$target/venv"
        "$target/venv/bin/pip" install --quiet -r requirements.txt
    fi
    cargo build --release --target-dir "$target"
    cargo build --profile dist --target-dir "$target/program" \
        --manifest-path "$root/Cargo.toml" -p tellmark
} >&2

# Each measurement has the machine to itself, and one thread.
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
"$target/release/tellmark-speed" network "$out/network.json"
OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 "$target/venv/bin/python" -W ignore \
    libraries.py "$out/network.json" "$out/libraries.json"
"$target/release/tellmark-speed" table "$out/libraries.json" \
    "$target/program/dist/tellmark" "$folder" | tee "$out/table.md"

#!/usr/bin/env bash
# Long campaigns led by the edges of the program that an input takes, and not only by
# the marks that a target leaves. The arguments are those of the program itself.
#
# The stable compiler puts a counter at every edge (LLVM's SanitizerCoverage). A target
# is named so that build scripts, which have nobody to count for, are built without.
set -euo pipefail
cd "$(dirname "$0")/../.."
host=$(rustc -vV | sed -n 's/^host: //p')
RUSTFLAGS="-Cpasses=sancov-module -Cllvm-args=-sanitizer-coverage-level=3 \
-Cllvm-args=-sanitizer-coverage-inline-8bit-counters -Ccodegen-units=1" \
    exec cargo run --profile fuzz --target "$host" --target-dir target/edges \
    -p tellmark-fuzz --features edge-counters -- "$@"

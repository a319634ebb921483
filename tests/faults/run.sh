#!/usr/bin/env bash
# Tries every command that writes with each of its calls to the disk failing in turn.
# `FAULTS_TABLE=1 tests/faults/run.sh` writes RESULTS.md anew.
set -euo pipefail
cd "$(dirname "$0")/../.."
if ! command -v cc >/dev/null; then
    echo "SKIPPED: there is no C compiler (cc) to build the faults with."
    exit 0
fi
cargo test -p tellmark --test all faults -- --ignored --nocapture

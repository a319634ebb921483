#!/bin/sh
# Builds the pack of the standard rules and then the bench unit's binaries around
# it. Needs a Rust toolchain for the host and, for the unit, Debian's packages
# rustc-web, cargo-web, rust-web-src and lld (it has the sources of the core
# library, from which that is built for a processor without a release of its own).
#
#   hw-notes/firmware/build.sh            both
#   PACK=my.pack hw-notes/firmware/build.sh   around a pack of one's own
set -eu
cd "$(dirname "$0")"
here=$(pwd)
target=${CARGO_TARGET_DIR:-$here/target}
mkdir -p "$target"

if [ -z "${PACK:-}" ]; then
    PACK=$target/standard.pack
    (cd ../.. && cargo run --quiet --release -p tellmark -- build --out "$PACK")
fi

# cargo takes the compiler from PATH unless it is told; the -Z options in
# .cargo/config.toml need the leave given by RUSTC_BOOTSTRAP.
RUSTC=/usr/bin/rustc RUSTC_BOOTSTRAP=1 TELLMARK_PACK=$(realpath "$PACK") \
    /usr/bin/cargo build --release --bins --target-dir "$target" "$@"
echo "Built $target/thumbv6m-none-eabi/release/measure and bits."

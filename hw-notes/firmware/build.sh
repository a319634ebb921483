#!/bin/sh
# Builds the pack of the standard rules and then the bench unit's binaries around
# it. Needs a Rust toolchain for the host and, for the unit, either its target
# (`rustup target add thumbv6m-none-eabi`) or Debian's packages rustc-web,
# cargo-web and rust-web-src, which have the sources of the core library to build
# it from. The linker is ld.lld, from Debian's or LLVM's package lld.
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

export TELLMARK_PACK=$(realpath "$PACK")
if [ -d "$(rustc --print sysroot)/lib/rustlib/thumbv6m-none-eabi/lib" ]; then
    cargo build --release --bins --target-dir "$target" "$@"
else
    # cargo takes the compiler from PATH unless it is told; the -Z options need
    # the leave given by RUSTC_BOOTSTRAP.
    RUSTC=/usr/bin/rustc RUSTC_BOOTSTRAP=1 /usr/bin/cargo build --release --bins \
        -Zbuild-std=core -Zbuild-std-features=compiler-builtins-mem \
        --target-dir "$target" "$@"
fi
echo "Built $target/thumbv6m-none-eabi/release/measure and bits."

#!/bin/sh
# Builds the pack of the standard rules, then the bench unit's firmware and the
# measuring binaries around it, and then the file that is dragged onto the unit.
# Needs a Rust toolchain for the host and, for the unit, either its target
# (`rustup target add thumbv6m-none-eabi`) or Debian's packages rustc-web,
# cargo-web and rust-web-src, which have the sources of the core library to build
# it from. The linker is ld.lld, from Debian's or LLVM's package lld.
#
#   hw-notes/firmware/build.sh                all of it
#   PACK=my.pack hw-notes/firmware/build.sh   around a pack of one's own
set -eu
cd "$(dirname "$0")"
here=$(pwd)
target=${CARGO_TARGET_DIR:-$here/target}
mkdir -p "$target"

if [ -z "${PACK:-}" ]; then
    PACK=$target/standard.pack
    (cd ../.. && cargo run --quiet -p tellmark -- build --out "$PACK")
fi

export TELLMARK_PACK=$(realpath "$PACK")
# One package at a time: what one asks of a library is not the other's business.
build() {
    if [ -d "$(rustc --print sysroot)/lib/rustlib/thumbv6m-none-eabi/lib" ]; then
        cargo build --bins --target-dir "$target" "$@"
    else
        # cargo takes the compiler from PATH unless it is told; the -Z options need
        # the leave given by RUSTC_BOOTSTRAP.
        RUSTC=/usr/bin/rustc RUSTC_BOOTSTRAP=1 /usr/bin/cargo build --bins \
            -Zbuild-std=core -Zbuild-std-features=compiler-builtins-mem \
            --target-dir "$target" "$@"
    fi
}
build -p tellmark-firmware --profile release
build -p tellmark-unit --profile unit
built=$target/thumbv6m-none-eabi
(cd ../.. && cargo run --quiet -p tellmark-uf2 -- "$built/unit/unit" "$target/tellmark-unit.uf2")
echo "Built measure and bits in $built/release, the firmware in $built/unit."

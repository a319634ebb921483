#!/bin/sh
# Builds the pack of the standard rules, then the bench unit's firmware and the
# measuring binaries around it, and then the file that is dragged onto the unit.
# Needs a Rust toolchain for the host and, for the unit, either its target
# (`rustup target add thumbv6m-none-eabi`) or Debian's packages rustc-web,
# cargo-web and rust-web-src, which have the sources of the core library to build
# it from. The linker is ld.lld, from Debian's or LLVM's package lld.
#
#   hw-notes/firmware/build.sh                all of it
#   hw-notes/firmware/build.sh lint           only what clippy has to say of it
#   PACK=my.pack hw-notes/firmware/build.sh   around a pack of one's own
set -eu
cd "$(dirname "$0")"
here=$(pwd)
target=${CARGO_TARGET_DIR:-$here/target}
mkdir -p "$target"

if [ -z "${PACK:-}" ]; then
    PACK=$target/standard.pack
    (cd ../.. && cargo run --quiet -p tellmark -- build --families none --out "$PACK")
fi

export TELLMARK_PACK=$(realpath "$PACK")

if [ -d "$(rustc --print sysroot)/lib/rustlib/thumbv6m-none-eabi/lib" ]; then
    cargo=cargo
    core=
else
    # cargo takes the compiler, and clippy, from PATH unless it is told; the -Z options
    # need the leave given by RUSTC_BOOTSTRAP.
    cargo="env PATH=/usr/bin:$PATH RUSTC=/usr/bin/rustc RUSTC_BOOTSTRAP=1 /usr/bin/cargo"
    core="-Zbuild-std=core -Zbuild-std-features=compiler-builtins-mem"
fi

# A panic says in which file it happened, and those names are part of the program:
# they must be the same in whatever folders the sources lie.
$cargo fetch --quiet --locked
remap="'--remap-path-prefix=$(cd ../.. && pwd -P)=tellmark'"
for crates in "${CARGO_HOME:-$HOME/.cargo}"/registry/src/*/; do
    remap="$remap, '--remap-path-prefix=${crates%/}=crates'"
done

# One package at a time: what one asks of a library is not the other's business.
with_cargo() {
    command=$1
    shift
    # shellcheck disable=SC2086 # each of them is several words
    $cargo "$command" --bins $core --target-dir "$target" \
        --config "target.thumbv6m-none-eabi.rustflags=[$remap]" "$@"
}
if [ "${1:-}" = lint ]; then
    with_cargo clippy -p tellmark-firmware --lib -- -D warnings
    with_cargo clippy -p tellmark-unit -- -D warnings
    exit
fi
with_cargo build -p tellmark-firmware --profile release
with_cargo build -p tellmark-unit --profile unit
built=$target/thumbv6m-none-eabi
(cd ../.. && cargo run --quiet -p tellmark-uf2 -- "$built/unit/unit" "$target/tellmark-unit.uf2")
echo "Built measure and bits in $built/release, the firmware in $built/unit."

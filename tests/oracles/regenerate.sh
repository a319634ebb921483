#!/bin/sh
# Makes tests/golden again: the networks of the standard rules as they are now, and
# what independent libraries say of them. Needs Python 3.11 or later, and fetches
# the libraries named in requirements.txt the first time.
#
# A folder for the libraries may be named: ORACLES_VENV=folder ./regenerate.sh
set -eu
here=$(cd "$(dirname "$0")" && pwd)
cd "$here/../.."
target=${CARGO_TARGET_DIR:-target}
venv=${ORACLES_VENV:-$target/oracles-venv}
networks=$target/oracles-networks

if [ ! -x "$venv/bin/python" ]; then
    python3 -m venv "$venv"
fi
"$venv/bin/python" -m pip install --quiet --requirement "$here/requirements.txt"

rm -rf "$networks"
mkdir -p "$networks" tests/golden
cargo run --quiet --package tellmark-tests --example oracle_networks -- "$networks"
PYTHONDONTWRITEBYTECODE=1 "$venv/bin/python" -W ignore "$here/make.py" "$networks" tests/golden
cargo test --quiet --package tellmark-tests --test all oracles -- --nocapture

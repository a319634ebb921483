#!/usr/bin/env bash
# Cuts the two fonts of the owner's pages out of Debian's fonts-vollkorn: the letters of the
# languages of western and central Europe, lining and even figures, kerning, ligatures.
# Needs fonts-vollkorn, python3-fonttools and python3-brotli.
set -euo pipefail
cd "$(dirname "$0")"
for cut in Regular SemiBold; do
    /usr/bin/python3 -m fontTools.subset "/usr/share/fonts/truetype/vollkorn/Vollkorn-$cut.ttf" \
        --unicodes='U+20-7E,U+A0-17F,U+2009,U+2010-2014,U+2018-201E,U+2022,U+2026,U+2032,U+2033,U+20AC,U+2212' \
        --layout-features=kern,liga,lnum,tnum,ccmp,locl,mark --no-hinting --desubroutinize \
        --name-IDs=0,1,2,3,4,5,6,13,14 --flavor=woff2 --output-file="Vollkorn-$cut.woff2"
done

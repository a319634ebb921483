"""How much memory the largest photographs take: makes them, adds each to a job, and writes
the report. Needs Pillow and numpy, GNU time, and the program built for release:

    python3 memory.py target/release/tellmark > memory.txt
"""

import io
import struct
import subprocess
import sys
import tempfile
import zlib
from pathlib import Path

import numpy
from PIL import Image

Image.MAX_IMAGE_PIXELS = None
PROGRAM = Path(sys.argv[1]).resolve()


def waves(width, height):
    """Colours that vary, with some noise, made in little memory."""
    across = numpy.arange(width, dtype=numpy.uint32)[None, :]
    down = numpy.arange(height, dtype=numpy.uint32)[:, None]
    dots = numpy.empty((height, width, 3), dtype=numpy.uint8)
    dots[:, :, 0] = (across // 16 + down // 32) % 256
    dots[:, :, 1] = (across * 3 // 64) % 256
    dots[:, :, 2] = ((across * 7919 + down * 104729) >> 7) % 64 + 90
    return Image.fromarray(dots)


def jpeg(size, **how):
    made = io.BytesIO()
    orientation = how.pop("orientation", None)
    if orientation:
        exif = Image.Exif()
        exif[0x0112] = orientation
        how["exif"] = exif
    image = waves(*size)
    if how.pop("mode", None) == "CMYK":
        image = image.convert("CMYK")
    image.save(made, "JPEG", quality=60, **how)
    return made.getvalue()


def chunk(name, body):
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def png(size, channels=3, depth=8, interlaced=False, more=b""):
    """All dots alike within a row: what matters here is how many there are."""
    width, height = size
    colour = {1: 0, 2: 4, 3: 2, 4: 6}[channels]
    head = struct.pack(">IIBBBBB", width, height, depth, colour, 0, 0, int(interlaced))
    passes = [(0, 0, 1, 1)]
    if interlaced:
        passes = [(0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2)]
    squeeze = zlib.compressobj(1)
    data = []
    for left, top, across, down in passes:
        dots = len(range(left, width, across))
        for y in range(top, height, down):
            row = bytes([0]) + bytes([y * 255 // height]) * (dots * channels * depth // 8)
            data.append(squeeze.compress(row))
    data.append(squeeze.flush())
    data = b"".join(data)
    exif = b"MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x06\0\0\0\0\0\0"
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + more + chunk(b"eXIf", exif)
        + chunk(b"IDAT", data) + chunk(b"IEND", b"")
    )


def profile(unfolded):
    squeeze = zlib.compressobj(9)
    data = b"".join(squeeze.compress(bytes(1 << 20)) for _ in range(unfolded >> 20))
    return chunk(b"iCCP", b"large\0\0" + data + squeeze.flush())


def words(unfolded):
    squeeze = zlib.compressobj(9)
    data = b"".join(squeeze.compress(bytes(1 << 20)) for _ in range(unfolded >> 20))
    return chunk(b"zTXt", b"large\0\0" + data + squeeze.flush())


LARGE = (10_000, 10_000)
FORMS = [
    ("JPEG, 100 million dots", "jpg", lambda: jpeg(LARGE)),
    ("the same, turned", "jpg", lambda: jpeg(LARGE, orientation=6)),
    ("the same, 4:4:4", "jpg", lambda: jpeg(LARGE, subsampling=0)),
    ("JPEG, printers' colours, 60 million", "jpg", lambda: jpeg((10_000, 6_000), mode="CMYK")),
    ("JPEG, 12 million, turned", "jpg", lambda: jpeg((4_000, 3_000), orientation=8)),
    ("JPEG, progressive, 30 million", "jpg", lambda: jpeg((6_300, 4_800), progressive=True)),
    ("JPEG, progressive 4:4:4, 16 million", "jpg", lambda: jpeg((4_600, 3_500), progressive=True, subsampling=0)),
    ("JPEG, progressive, 100 million", "jpg", lambda: jpeg(LARGE, progressive=True)),
    ("PNG, 100 million dots, turned", "png", lambda: png(LARGE)),
    ("PNG, RGBA of 16 bits, 100 million", "png", lambda: png(LARGE, 4, 16)),
    ("PNG, interlaced, 100 million", "png", lambda: png(LARGE, 3, 8, True)),
    ("PNG, 65,535 across", "png", lambda: png((65_535, 1_500), 4, 16)),
    ("PNG, 2 by 2, a profile of 700 MB", "png", lambda: png((2, 2), 3, 8, False, profile(700 << 20))),
    ("PNG, 2 by 2, words of 700 MB", "png", lambda: png((2, 2), 3, 8, False, words(700 << 20))),
]


def run(folder, *arguments):
    """What it said, its exit code, seconds, and most memory in MB."""
    figures = folder / "figures"
    ran = subprocess.run(
        ["/usr/bin/time", "-q", "-o", figures, "-f", "%e %M", PROGRAM, *arguments],
        cwd=folder, capture_output=True, text=True,
    )
    seconds, kilobytes = figures.read_text().split()[-2:]
    return ran, float(seconds), int(kilobytes) / 1000


def main():
    print("What the largest photographs take: MB of the file, then seconds and most memory in")
    print("MB to add it to a job, and to write the report.\n")
    most = 0
    for name, ending, make in FORMS:
        with tempfile.TemporaryDirectory() as folder:
            folder = Path(folder)
            photo = folder / f"a.{ending}"
            photo.write_bytes(make())
            subprocess.run([PROGRAM, "open", "chest of drawers with 2 drawers", "--name", "chest"],
                           cwd=folder, check=True, capture_output=True)
            added, seconds, memory = run(folder, "photo", "chest", photo.name)
            row = f"{name:38}{photo.stat().st_size / 1e6:6.1f}{seconds:7.2f}{memory:6.0f}"
            most = max(most, memory)
            if added.returncode:
                why = added.stderr.split(" is ")[-1].split(" would ")[-1].split(".")[0]
                print(f"{row}   refused: {why}")
                continue
            report, seconds, memory = run(folder, "report", "chest", "--out", "r.html")
            assert report.returncode == 0 and 'src="data:' in (folder / "r.html").read_text(), report
            most = max(most, memory)
            print(f"{row}{seconds:7.2f}{memory:6.0f}")
    print(f"\nThe most: {most:.0f} MB.")
    assert most < 150


main()

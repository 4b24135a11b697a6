"""Cuts Arimo down to what paper needs: www/fonts/arimo.ttc, its license beside it, and
src/draw/widths.bin, how wide each letter is.

Needs fonttools (4.68.0) and the two files of Debian's package fonts-croscore (20201225-1,
Arimo 1.33). Give their folder:

    python3 tests/tools/typeface.py /usr/share/fonts/truetype/croscore
"""

import io
import struct
import sys
from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTCollection, TTFont

# What people write their names and notes in, and signs of the trade.
RANGES = [
    (0x0020, 0x007E),  # Basic Latin
    (0x00A0, 0x017F),  # Latin-1, Latin Extended-A
    (0x0192, 0x0192),
    (0x01A0, 0x01A1),
    (0x01AF, 0x01B0),
    (0x01CD, 0x01DC),
    (0x01E6, 0x01E9),
    (0x01F4, 0x01F5),
    (0x01F8, 0x01FF),
    (0x0218, 0x021B),  # Romanian
    (0x0259, 0x0259),
    (0x02BC, 0x02BC),
    (0x02C6, 0x02DD),
    (0x0384, 0x03CE),  # Greek
    (0x0400, 0x045F),  # Cyrillic
    (0x0462, 0x0463),
    (0x0472, 0x0475),
    (0x048A, 0x04FF),  # other languages of Russia and Asia
    (0x1E00, 0x1E9E),  # Latin Extended Additional
    (0x1EA0, 0x1EF9),  # Vietnamese
    (0x2010, 0x2026),
    (0x2030, 0x203A),
    (0x2044, 0x2044),
    (0x2070, 0x208E),
    (0x20AC, 0x20AC),
    (0x2116, 0x2116),
    (0x2122, 0x2122),
    (0x2150, 0x215E),  # fractions
    (0x2190, 0x2195),
    (0x2212, 0x2215),
    (0x221A, 0x221A),
    (0x221E, 0x221E),
    (0x2248, 0x2248),
    (0x2260, 0x2265),
]

# Nothing of these is written into a PDF file.
DROPPED = ["GDEF", "GPOS", "GSUB", "DSIG", "gasp", "post", "OS/2"]

# The notice of copyright and the license, in every copy.
NAMES = [0, 13, 14]


def cut(file):
    """A face with the wanted letters, without hints, as its own bytes read anew."""
    font = TTFont(file, recalcTimestamp=False)
    options = Options()
    options.hinting = False
    options.notdef_outline = True
    options.glyph_names = False
    options.legacy_cmap = False
    options.drop_tables += DROPPED
    options.name_IDs = NAMES
    options.recalc_timestamp = False
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=[it for first, last in RANGES for it in range(first, last + 1)])
    subsetter.subset(font)
    for table in DROPPED:
        if table in font:
            del font[table]
    for table in font["cmap"].tables[:]:
        if (table.platformID, table.format) != (3, 4):
            font["cmap"].tables.remove(table)
    kept = io.BytesIO()
    font.save(kept)
    kept.seek(0)
    return TTFont(kept, recalcTimestamp=False)


def widths(fonts):
    """The letters in runs of neighbors, the pairs of widths that there are, regular and bold,
    in thousandths of the font's size, and of each letter which pair it has."""
    maps = [font.getBestCmap() for font in fonts]
    letters = sorted(maps[0])
    assert letters == sorted(maps[1])
    runs = []
    for letter in letters:
        if runs and sum(runs[-1]) == letter:
            runs[-1][1] += 1
        else:
            runs.append([letter, 1])
    of = [
        tuple(round(font["hmtx"][it[letter]][0] * 1000 / 2048) for font, it in zip(fonts, maps))
        for letter in letters
    ]
    pairs = sorted(set(of))
    packed = struct.pack("<BB", len(runs), len(pairs))
    packed += b"".join(struct.pack("<HH", *two) for two in runs + pairs)
    return packed + bytes(pairs.index(pair) for pair in of)


def main():
    """Writes both weights as one collection; tables that are alike stand in it once."""
    folder = Path(sys.argv[1])
    both = TTCollection()
    both.fonts = [cut(folder / f"Arimo-{weight}.ttf") for weight in ("Regular", "Bold")]
    home = Path(__file__).parents[2]
    both.save(home / "www/fonts/arimo.ttc", shareTables=True)
    (home / "src/draw/widths.bin").write_bytes(widths(both.fonts))
    print(len(both.fonts[0].getBestCmap()), "letters")


main()

#!/usr/bin/env python3
"""Makes the static faces for print and the small supplement faces for the web from the variable fonts.

Needs fontTools and brotli. Run with two unpacked npm packages, which carry the OFL fonts in subsets:
    npm pack @fontsource-variable/vollkorn @fontsource-variable/ysabeau-office    (version 5.3.0)
    make-fonts.py VOLLKORN/package/files YSABEAU/package/files
Writers of PDF and PNG apply no OpenType features, so lining tabular figures are put in the character map itself.
A sign that Vollkorn's subsets lack (such as a relation or an arrow) is taken from Ysabeau Office at the same weight.
"""
import copy
import pathlib
import sys

from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont
from fontTools.varLib.instancer import instantiateVariableFont

EXTRA = "↑↓⁰⁴⁵⁶⁷⁸⁹⁻₀₁₂₃≤≥≈√→←∞†αβγδεηθκλμνπρστφχψωΓΔΣΦΩ−×±°·µ²³¹½¼§•…"
LATIN = [chr(c) for c in range(0x20, 0x7F)] + [chr(c) for c in range(0xA0, 0x180)] + list("–—‘’‚“”„‹›€")
FACES = {
    "Text": [(400, False), (500, False), (600, False), (400, True), (500, True)],
    "Label": [(500, False), (650, False), (500, True)],
}


def subsets(folder, family, italic):
    order = ["latin", "latin-ext", "greek", "math", "symbols"]
    style = "italic" if italic else "normal"
    paths = [pathlib.Path(folder) / f"{family}-{part}-wght-{style}.woff2" for part in order]
    return [path for path in paths if path.exists()]


def instances(paths, weight):
    return [instantiateVariableFont(TTFont(path), {"wght": weight}, inplace=True) for path in paths]


def figures(font):
    """Names of the lining tabular glyphs by the name of the default figure."""
    swap = {}
    gsub = font["GSUB"].table
    for tag in ("lnum", "tnum"):
        lookups = [i for r in gsub.FeatureList.FeatureRecord if r.FeatureTag == tag for i in r.Feature.LookupListIndex]
        step = {}
        for index in lookups:
            for table in gsub.LookupList.Lookup[index].SubTable:
                step.update(getattr(table, "mapping", {}))
        swap = {name: step.get(swap.get(name, name), swap.get(name, name)) for name in set(swap) | set(step)}
    return swap


def add(font, donor, char):
    code = ord(char)
    source = donor.getBestCmap()[code]
    name = f"uni{code:04X}.x"
    pen, record = TTGlyphPen(None), DecomposingRecordingPen(donor.getGlyphSet())
    donor.getGlyphSet()[source].draw(record)
    record.replay(pen)
    font["glyf"][name] = pen.glyph()
    advance = donor["hmtx"][source][0]
    glyph = font["glyf"][name]
    glyph.recalcBounds(font["glyf"])
    font["hmtx"][name] = (advance, getattr(glyph, "xMin", 0))
    for table in font["cmap"].tables:
        if table.isUnicode():
            table.cmap[code] = name


def rename(font, family, weight, italic):
    style = {400: "Regular", 500: "Medium", 600: "SemiBold", 650: "SemiBold"}[weight] + (" Italic" if italic else "")
    full = f"Meltwise {family} {style}"
    # The originals' default instance is bold; a writer must not take a medium face for one.
    font["OS/2"].usWeightClass = weight
    font["OS/2"].fsSelection = (font["OS/2"].fsSelection & ~0b1100001) | (0b1 if italic else 0b1000000)
    font["head"].macStyle = 0b10 if italic else 0
    names = font["name"]
    for record in list(names.names):
        if record.nameID not in (0, 13, 14):
            names.removeNames(nameID=record.nameID)
    for ident, text in ((1, f"Meltwise {family} {style}"), (2, "Regular"), (3, full), (4, full), (5, "Version 1.0"), (6, full.replace(" ", "-"))):
        names.setName(text, ident, 3, 1, 0x409)
        names.setName(text, ident, 1, 0, 0)


def face(folders, family, weight, italic):
    own = {"Text": "vollkorn", "Label": "ysabeau-office"}[family]
    base, *more = instances(subsets(folders[own], own, italic), weight)
    if own == "vollkorn":
        more += instances(subsets(folders["ysabeau-office"], "ysabeau-office", italic), weight)
    wanted = [c for c in LATIN + list(EXTRA)]
    for char in wanted:
        if ord(char) in base.getBestCmap():
            continue
        donor = next((d for d in more if ord(char) in d.getBestCmap()), None)
        if donor is not None:
            add(base, donor, char)
    base.setGlyphOrder(base["glyf"].glyphOrder)
    base.__dict__.pop("_reverseGlyphOrderDict", None)
    swap = figures(base)
    for tag in ("GSUB", "GPOS", "GDEF", "STAT", "DSIG"):
        if tag in base:
            del base[tag]
    for table in base["cmap"].tables:
        if table.isUnicode():
            table.cmap.update({code: swap.get(name, name) for code, name in table.cmap.items()})
    options = Options(layout_features=[], hinting=False, name_IDs=["*"], notdef_outline=True, glyph_names=False)
    cut = Subsetter(options)
    cut.populate(unicodes=[ord(c) for c in wanted])
    cut.subset(base)
    base.flavor = None
    rename(base, family, weight, italic)
    return base


def main():
    folders = dict(zip(("vollkorn", "ysabeau-office"), sys.argv[1:3]))
    out = pathlib.Path(__file__).parent / "Files"
    for family, faces in FACES.items():
        for weight, italic in faces:
            font = face(folders, family, weight, italic)
            font.save(out / f"meltwise-{family.lower()}-{weight}{'-italic' if italic else ''}.ttf")
        supplement = face(folders, family, FACES[family][0][0], False)
        latin = TTFont(subsets(folders[{"Text": "vollkorn", "Label": "ysabeau-office"}[family]], {"Text": "vollkorn", "Label": "ysabeau-office"}[family], False)[0])
        extra = Subsetter(Options(layout_features=[], hinting=False, name_IDs=["*"]))
        extra.populate(unicodes=[ord(c) for c in EXTRA if ord(c) not in latin.getBestCmap()])
        web = copy.deepcopy(supplement)
        extra.subset(web)
        web.flavor = "woff2"
        web.save(out / f"meltwise-{family.lower()}-signs.woff2")


if __name__ == "__main__":
    main()

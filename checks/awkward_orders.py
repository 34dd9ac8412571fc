"""Fifty pieces that are awkward to write as files: tiny, long, crowded, of many kinds, of many names."""

#: Names of pieces: scripts, signs, devices' names, names that fall together in plain letters.
NAMES = [
    "Λιμάνι", "λιμάνι", "مرفأ", "مَرْفَأ", "🏮", "🏮🏮", "灯笼节", "पोत", "Ünïcödé", "naïve", "nai\u0308ve",
    "CON", "nul", "com1", "../up", "/etc", "a/b", "a\\\\b", "a:b", "a*b?", "..", ".hidden", "-rf", "--out",
    "trailing ", " leading", "dot.", "Badge", "badge", "BADGE", "tab, comma", "semi;colon", "quo'te",
    "<script>", "&amp;", "percent %41", "new-line", "ıİi", "ﬁne", "Straße", "STRASSE", "x" * 80, "𐌰" * 80,
    "badge 2", "badge-2",
]  # fmt: skip
KIND_NAMES = ["θάλασσα", "بحر", "🌊", "海", "sea glass", "SEA GLASS", "sea/glass", "-", "a name " * 8, "SEQEND"]
SHAPES = [
    '{ shape = "circle", diameter = "24 mm" }',
    '{ shape = "ellipse", width = "30 mm", height = "18 mm" }',
    '{ shape = "heart", width = "26 mm", height = "24 mm" }',
    '{ shape = "star", tips = 5, across = "34 mm" }',
    '{ shape = "regular polygon", corners = 7, across = "25 mm" }',
    '{ shape = "rounded rectangle", width = "28 mm", height = "16 mm", corner = "4 mm" }',
    '{ shape = "polygon", points = [["0 mm", "0 mm"], ["26 mm", "3 mm"], ["9 mm", "21 mm"]] }',
]
#: What is awkward by its measure: name, blank, arrangement, size of its stones, and what else.
MEASURES = [
    ("three millimetres", "rectangle", "3 mm", "40 mm", "SS5", ""),
    ("two metres", "rectangle", "2000 mm", "30 mm", "SS16", ""),
    ("a thread of two metres", "rectangle", "3 mm", "2000 mm", "SS5", ""),
    ("twenty thousand", "rectangle", "306 mm", "306 mm", "SS6", ""),
    ("five hundred copies", "rectangle", "20 mm", "12 mm", "SS9", "quantity = 500"),
]


def order():
    """The document as text: 50 pieces, over 60 kinds."""
    kinds = [f"{KIND_NAMES[i % len(KIND_NAMES)]} {i}" for i in range(60)]
    text = ["stonelay = 1", 'order = "Awkward 🏮"', ""]
    for size in sorted({m[4] for m in MEASURES}):
        text += ["[[kind]]", f'name = "{size}"', f'size = "{size}"', ""]
    for i, name in enumerate(kinds):
        # Colours over the whole cube, greys among them.
        rgb = (i * 4099 * 37) % 0x1000000 if i % 6 else i // 6 * 0x1C1C1C
        text += ["[[kind]]", f'name = "{name}"', 'size = "SS9"', f'colour = "#{rgb:06x}"', ""]
    for name, shape, width, height, size, more in MEASURES:
        text += ["[[piece]]", f'name = "{name}"', 'arrangement = "honeycomb"', f'mix = "{size}"', more]
        text += [f'blank = {{ shape = "{shape}", width = "{width}", height = "{height}" }}', ""]
    for i, name in enumerate(NAMES):
        # One piece has all sixty kinds, the others a few.
        some = kinds if i == 0 else kinds[i % 50 : i % 50 + 1 + i % 4]
        mix = ", ".join(f'{{ kind = "{k}" }}' for k in some)
        blank = '{ shape = "rectangle", width = "60 mm", height = "40 mm" }' if i == 0 else SHAPES[i % len(SHAPES)]
        text += ["[[piece]]", f'name = "{name}"', f"blank = {blank}", 'arrangement = "honeycomb"', f"mix = [{mix}]"]
        if i % 3 == 0:
            text += ['holes = [{ shape = "circle", diameter = "3 mm", at = ["12 mm", "9 mm"] }]']
        text += [""]
    return "\n".join(text)


N_PIECES = len(NAMES) + len(MEASURES)

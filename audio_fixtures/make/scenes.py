"""What the photos of the fixtures show. Each scene returns an upright picture, drawn."""

from __future__ import annotations

from canvas import Canvas, Colour, mix
from PIL import Image

WIDE, TALL = (1600, 1200), (1200, 1600)
STEEL: Colour = (176, 180, 184)
PANEL: Colour = (222, 226, 228)
INK: Colour = (34, 38, 44)
TURKEY: Colour = (222, 188, 160)
SOFT = (8.0, 14.0, 16.0)


def _shelf(canvas: Canvas, y: float, *, left: float = 60, right: float = 1540) -> None:
    """A wire shelf seen from the front."""
    for x in range(int(left), int(right), 26):
        canvas.line([(x, y - 22), (x + 10, y)], (150, 154, 160), 3)
    canvas.line([(left, y - 22), (right, y - 22)], (168, 172, 178), 4)
    canvas.line([(left, y), (right, y)], (196, 200, 205), 9, shadow=(0, 10, 8))


def _pan(canvas: Canvas, left: float, bottom: float, width: float, height: float, food: Colour) -> None:
    """A steel pan with food that stands a little above its rim."""
    top = bottom - height
    for place in range(int(width // 36)):
        tint = mix(food, (255, 255, 255), 0.08 * (place % 3))
        canvas.blob((left + 24 + place * 36, top - 12), 40, tint, flat=0.7)
    canvas.brushed((left, top, left + width, bottom), STEEL)
    canvas.box((left - 8, top - 4, left + width + 8, top + 12), (206, 209, 212), round_by=5, shadow=(0, 4, 4))


def _tub(canvas: Canvas, left: float, bottom: float, size: float, food: Colour, label: str = "") -> None:
    """A clear tub with a lid and, if it has one, a label."""
    clear = mix(food, (240, 244, 246), 0.25)
    canvas.box((left, bottom - size, left + size * 1.1, bottom), clear, round_by=14, shadow=SOFT)
    canvas.specks(
        (left + 14, bottom - size + 24, left + size * 1.1 - 14, bottom - 12),
        [mix(food, (255, 255, 255), 0.2), mix(food, (60, 40, 30), 0.25)], 90, size=(3, 8),
    )  # fmt: skip
    canvas.box(
        (left - 8, bottom - size - 16, left + size * 1.1 + 8, bottom - size + 10), (84, 122, 150), round_by=8
    )
    if label:
        canvas.box(
            (left + 26, bottom - size * 0.62, left + size * 1.1 - 26, bottom - size * 0.26), (250, 248, 238)
        )
        canvas.text((left + size * 0.55, bottom - size * 0.44), label, INK, 25)


def _thermometer(
    canvas: Canvas, x: float, y: float, reading: str, *, tip: tuple[float, float], scale: float = 1
) -> None:
    """A probe thermometer with a display, its stem pointing at `tip`."""
    canvas.line([(x, y + 70 * scale), tip], (214, 218, 222), 9 * scale, shadow=(6, 8, 6))
    canvas.box((x - 190 * scale, y - 105 * scale, x + 190 * scale, y + 105 * scale), (58, 64, 74),
               round_by=38 * scale, edge=(30, 33, 40), edge_width=5, shadow=(12, 18, 18))  # fmt: skip
    canvas.box((x - 150 * scale, y - 68 * scale, x + 150 * scale, y + 48 * scale), (188, 202, 178),
               round_by=10, edge=(90, 98, 88), edge_width=4)  # fmt: skip
    canvas.text((x - 14 * scale, y - 10 * scale), reading, (24, 30, 24), 86 * scale)
    canvas.text((x + 122 * scale, y - 40 * scale), "°F", (24, 30, 24), 30 * scale)


def turkey_shelf() -> Image.Image:
    canvas = Canvas(WIDE, PANEL, seed=1)
    for x in range(0, 1600, 320):
        canvas.line([(x, 0), (x, 1200)], (196, 201, 204), 4)
    for x in (70, 1530):
        canvas.line([(x, 0), (x, 1200)], (170, 175, 180), 18, shadow=(8, 6, 8))
    _pan(canvas, 160, 330, 520, 120, TURKEY)
    _tub(canvas, 820, 330, 190, (206, 196, 160), "PICKLES 10/12")
    _tub(canvas, 1130, 330, 190, (226, 216, 180), "AIOLI 10/12")
    _shelf(canvas, 350)
    _tub(canvas, 150, 700, 210, (238, 234, 220), "RICE 10/12")
    _tub(canvas, 480, 700, 210, (200, 60, 44), "TOMATO 10/13")
    _tub(canvas, 820, 700, 180, (104, 142, 70), "GREENS 10/13")
    _pan(canvas, 1110, 700, 330, 110, (196, 164, 96))
    _shelf(canvas, 720)
    _pan(canvas, 200, 1060, 560, 130, (234, 196, 184))
    canvas.box((900, 900, 1360, 1060), (176, 140, 98), edge=(120, 92, 60), shadow=SOFT)
    canvas.text((1130, 985), "RAW CHICKEN", (90, 60, 36), 42)
    _shelf(canvas, 1080)
    return canvas.developed(light=(0.45, 0.1), brightness=0.92)


def turkey_probe() -> Image.Image:
    canvas = Canvas(TALL, (70, 76, 84), seed=2)
    canvas.brushed((60, 700, 1140, 1540), STEEL, shadow=SOFT)
    canvas.brushed((120, 760, 1080, 1480), (132, 136, 140))
    for row in range(7):
        for column in range(6):
            tint = mix(TURKEY, (250, 236, 224), 0.12 * ((row + column) % 4))
            canvas.blob((210 + column * 158, 820 + row * 96), 104, tint, flat=0.72, rough=0.10)
    canvas.specks((160, 800, 1040, 1440), [(196, 156, 128), (236, 214, 196)], 500, size=(2, 6))
    _thermometer(canvas, 610, 330, "48.5", tip=(560, 1090), scale=1.5)
    return canvas.developed(light=(0.5, 0.4))


def ham_no_date() -> Image.Image:
    canvas = Canvas(WIDE, (198, 204, 208), seed=3)
    canvas.brushed((0, 760, 1600, 1200), STEEL)
    film: Colour = (246, 214, 210)
    canvas.box(
        (360, 250, 1240, 900), (226, 150, 146), round_by=60, edge=film, edge_width=26, shadow=(14, 26, 26)
    )
    for line in range(9):
        canvas.line([(440 + line * 12, 320 + line * 62), (1160, 300 + line * 66)], (214, 128, 126), 16)
    canvas.specks((420, 300, 1180, 840), [(238, 178, 172), (250, 222, 216)], 600, size=(2, 7))
    canvas.shape([(1090, 250), (1240, 250), (1240, 420)], (198, 204, 208))
    canvas.line([(1085, 250), (1242, 425)], (250, 240, 238), 9, shadow=(4, 6, 6))
    canvas.box(
        (520, 470, 1010, 720), (250, 249, 242), round_by=8, edge=(60, 70, 120), edge_width=6, shadow=(4, 6, 6)
    )
    canvas.text((765, 525), "COOKED HAM", (40, 50, 110), 54)
    for row, word in enumerate(("opened", "use by")):
        canvas.text((560, 605 + row * 66), word, (60, 64, 80), 36, anchor="lm")
        canvas.line([(700, 622 + row * 66), (970, 622 + row * 66)], (60, 64, 80), 3)
    return canvas.developed(light=(0.5, 0.3))


def reach_in() -> Image.Image:
    canvas = Canvas(WIDE, (120, 126, 132), seed=4)
    canvas.brushed((0, 0, 1600, 1200), STEEL)
    canvas.box((170, 90, 1430, 1130), (228, 233, 236), round_by=18, edge=(60, 64, 70), edge_width=22)
    canvas.box((560, 120, 1040, 150), (255, 255, 246), round_by=10)
    foods: list[tuple[Colour, str]] = [
        ((226, 222, 190), "SLAW"), ((214, 150, 148), "HAM"), ((178, 76, 54), "SALSA"),
        ((240, 236, 226), "CREAM"), ((120, 150, 80), "HERBS"), ((214, 186, 110), "CHEESE"),
    ]  # fmt: skip
    for place, (food, label) in enumerate(foods):
        _tub(canvas, 240 + (place % 3) * 400, 560 + (place // 3) * 440, 230, food, label)
    _shelf(canvas, 580, left=200, right=1400)
    _shelf(canvas, 1020, left=200, right=1400)
    return canvas.developed(light=(0.5, 0.15))


def chowder_well() -> Image.Image:
    canvas = Canvas(WIDE, (90, 94, 98), seed=5)
    canvas.brushed((0, 0, 1600, 1200), STEEL)
    canvas.oval((350, 260, 1250, 1080), (96, 100, 104), edge=(214, 217, 220), edge_width=26, shadow=SOFT)
    canvas.oval((420, 330, 1180, 1010), (238, 226, 196))
    canvas.specks((520, 430, 1080, 910), [(250, 244, 226), (206, 180, 140), (96, 130, 70)], 420, size=(4, 13))
    canvas.line([(1130, 160), (900, 620)], (188, 192, 196), 26, shadow=(12, 16, 12))
    _thermometer(canvas, 330, 200, "118.0", tip=(740, 640))
    return canvas.developed(blur=9)


def stew_pot() -> Image.Image:
    canvas = Canvas(WIDE, (206, 202, 190), seed=6)
    canvas.tiles((0, 0, 1600, 760), (226, 222, 208), size=(150, 96), joint=(178, 174, 164))
    canvas.brushed((0, 760, 1600, 1200), STEEL)
    canvas.brushed((480, 330, 1120, 980), (166, 170, 174), shadow=(22, 26, 26))
    for x in (430, 1120):
        canvas.box((x, 470, x + 50, 580), (120, 124, 128), round_by=18, shadow=(6, 8, 8))
    canvas.oval((450, 270, 1150, 400), (196, 200, 204), edge=(128, 132, 136), edge_width=8, shadow=(0, 8, 8))
    canvas.box((745, 232, 855, 300), (44, 46, 50), round_by=18, shadow=(2, 6, 6))
    canvas.box((620, 560, 980, 700), (250, 249, 240), shadow=(3, 5, 5))
    canvas.text((800, 605), "BEEF STEW", INK, 50)
    canvas.text((800, 660), "started 8:15", INK, 38)
    return canvas.developed(light=(0.4, 0.25))


def cooling_sheet() -> Image.Image:
    canvas = Canvas(TALL, (252, 252, 250), seed=7)
    canvas.text((600, 130), "Cooling sheet", INK, 72)
    canvas.text((600, 215), "Tuesday, October 13", INK, 38)
    rows = (("food", "time", "°F"), ("beef stew", "8:15", "135"), ("beef stew", "10:15", "78"))
    for row in range(10):
        top = 300 + row * 118
        for left, right in ((110, 610), (610, 860), (860, 1090)):
            canvas.box((left, top, right, top + 118), (255, 255, 255), edge=(60, 66, 74), edge_width=3)
        for x, words in zip((140, 640, 890), rows[row] if row < len(rows) else (), strict=False):
            canvas.text((x, top + 60), words, (28, 48, 120) if row else INK, 46, anchor="lm")
    return canvas.scanned()


def hand_sink() -> Image.Image:
    canvas = Canvas(TALL, (214, 220, 220), seed=8)
    canvas.tiles((0, 0, 1200, 1600), (228, 234, 234), size=(150, 150), joint=(176, 184, 184))
    canvas.box(
        (760, 220, 1070, 610), (120, 126, 132), round_by=26, edge=(80, 84, 90), edge_width=6, shadow=SOFT
    )
    canvas.box((800, 520, 1030, 572), (16, 16, 20), round_by=10)
    canvas.text((915, 330), "TOWELS", (232, 234, 236), 52)
    canvas.box((200, 300, 360, 600), (236, 236, 232), round_by=30, edge=(150, 154, 158), shadow=SOFT)
    canvas.box((235, 350, 325, 500), (120, 190, 170), round_by=14)
    canvas.text((280, 545), "soap", INK, 34)
    canvas.box(
        (150, 980, 1050, 1330), (238, 240, 240), round_by=70, edge=(188, 192, 194), edge_width=12, shadow=SOFT
    )
    canvas.oval((260, 1020, 940, 1180), (196, 200, 203), edge=(160, 164, 168), edge_width=8)
    canvas.oval((570, 1090, 630, 1120), (60, 64, 68))
    tap = [(600, 1010), (600, 800), (600, 780), (680, 780), (680, 850)]
    canvas.line(tap, (182, 186, 190), 40, shadow=(8, 12, 10))
    canvas.box((545, 1330, 655, 1600), (206, 210, 212), shadow=(8, 8, 12))
    canvas.box((430, 80, 720, 190), (250, 250, 246), edge=(60, 66, 74), edge_width=4, shadow=(3, 5, 5))
    canvas.text((575, 135), "WASH HANDS", INK, 42)
    return canvas.developed(light=(0.35, 0.2))


def quat_strip() -> Image.Image:
    canvas = Canvas(WIDE, (150, 154, 156), seed=9)
    canvas.brushed((0, 0, 1600, 1200), STEEL)
    canvas.box((180, 200, 1420, 640), (250, 248, 238), round_by=20, shadow=SOFT)
    canvas.text((800, 265), "QUATERNARY AMMONIUM, PPM", INK, 50)
    steps: list[tuple[str, Colour]] = [
        ("0", (236, 206, 120)), ("100", (204, 196, 110)), ("200", (150, 172, 96)), ("400", (70, 128, 84)),
    ]  # fmt: skip
    for place, (label, colour) in enumerate(steps):
        left = 250 + place * 285
        canvas.text((left + 115, 350), label, INK, 54)
        canvas.box((left, 395, left + 230, 575), colour, edge=(110, 110, 100))
    canvas.shape([(570, 1130), (650, 1140), (690, 480), (618, 474)], (246, 242, 228), shadow=(8, 12, 10))
    canvas.shape([(604, 640), (680, 648), (690, 480), (618, 474)], (206, 198, 112))
    canvas.specks((900, 760, 1500, 1150), [(206, 212, 216), (150, 156, 160)], 80, size=(3, 12))
    return canvas.developed(light=(0.5, 0.3))


def shrimp_floor() -> Image.Image:
    canvas = Canvas(WIDE, (176, 186, 196), seed=10)
    canvas.brushed((0, 640, 1600, 1200), (120, 128, 134))
    for x in range(0, 1600, 400):
        canvas.line([(x, 0), (x, 640)], (150, 160, 170), 5)
    for y in (180, 430):
        _shelf(canvas, y)
    canvas.box((520, 520, 1120, 980), (188, 152, 106), edge=(120, 90, 56), edge_width=5, shadow=(20, 20, 24))
    canvas.box((520, 700, 1120, 748), (214, 190, 150))
    canvas.text((820, 625), "FROZEN SHRIMP", (70, 46, 26), 62)
    canvas.text((820, 850), "keep at 0 °F or below", (70, 46, 26), 40)
    canvas.specks((0, 640, 1600, 1200), [(206, 214, 220), (232, 238, 242)], 260, size=(1, 5))
    return canvas.developed(light=(0.5, 0.5), brightness=0.2)


def under_dish_machine() -> Image.Image:
    canvas = Canvas(WIDE, (104, 82, 72), seed=11)
    canvas.tiles((0, 520, 1600, 1200), (146, 82, 66), size=(200, 110), joint=(72, 50, 44))
    canvas.box((0, 0, 1600, 520), (44, 46, 50))
    canvas.brushed((120, 0, 1480, 300), STEEL, shadow=(0, 30, 30))
    for x in (200, 1360):
        canvas.brushed((x, 300, x + 56, 780), (140, 144, 148), shadow=(14, 10, 14))
    canvas.line([(720, 280), (720, 560), (980, 620), (980, 760)], (196, 198, 196), 58, shadow=(12, 16, 14))
    for x, y, radius in (
        (520, 860, 150),
        (800, 940, 200),
        (1120, 850, 170),
        (620, 1050, 130),
        (980, 760, 110),
    ):
        canvas.blob((x, y), radius, (52, 40, 30), flat=0.4)
    scraps: list[Colour] = [(92, 74, 44), (176, 150, 92), (70, 92, 50), (30, 24, 20)]
    canvas.specks((360, 740, 1300, 1100), scraps, 620, size=(3, 15))
    return canvas.developed(light=(0.5, 0.7), brightness=1.12)


def dumpster() -> Image.Image:
    canvas = Canvas(WIDE, (168, 196, 218), seed=12)
    canvas.tiles((0, 160, 1600, 800), (172, 104, 84), size=(130, 52), joint=(196, 180, 166))
    canvas.box((0, 800, 1600, 1200), (142, 142, 138))
    canvas.specks((0, 800, 1600, 1200), [(120, 120, 116), (166, 166, 160), (104, 100, 96)], 1500, size=(1, 4))
    canvas.shape([(420, 470), (1240, 470), (1300, 150), (380, 150)], (44, 62, 52), shadow=(10, 10, 16))
    for x, tint in ((520, (34, 34, 38)), (760, (48, 48, 54)), (1000, (34, 36, 40)), (1160, (226, 226, 220))):
        canvas.blob((x, 470), 130, tint, flat=0.7)
    canvas.shape([(350, 480), (1310, 480), (1230, 1010), (430, 1010)], (58, 104, 80), shadow=(24, 28, 26))
    for x in (560, 830, 1100):
        canvas.line([(x, 500), (x - (x - 830) * 0.12, 1000)], (44, 84, 64), 16)
    canvas.line([(340, 480), (1320, 480)], (40, 76, 58), 20)
    for x in (480, 1180):
        canvas.oval((x - 46, 990, x + 46, 1080), (36, 36, 38), shadow=(6, 10, 8))
    return canvas.developed(light=(0.4, 0.1))


def clean_bucket() -> Image.Image:
    canvas = Canvas(WIDE, (196, 200, 204), seed=13)
    canvas.tiles((0, 0, 1600, 620), (226, 230, 230), size=(140, 140), joint=(180, 186, 186))
    canvas.brushed((0, 620, 1600, 1200), STEEL)
    canvas.shape([(520, 420), (1080, 420), (1010, 1000), (590, 1000)], (178, 52, 48), shadow=(18, 20, 22))
    canvas.oval((520, 360, 1080, 480), (214, 226, 230), edge=(140, 36, 34), edge_width=12)
    canvas.text((800, 720), "SANITIZER", (250, 244, 240), 76)
    return canvas.developed(light=(0.4, 0.2))

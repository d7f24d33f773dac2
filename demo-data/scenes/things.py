# SPDX-License-Identifier: GPL-3.0-or-later
"""The things of the orchard and cider works, each drawn by one function.

A thing stands on a field of 1000 x 1000 units with its foot near y = 900. The table at the end says for each
drawing where a close view looks and what its rating plate reads (makers are invented).
"""

import math

FOOT = 900


def legs(d, xs, y, material, width=34, foot=FOOT, back=26):
    for x in xs:
        d.rect(x + 40, y, width * .8, foot - y - back, material, "h")
    for x in xs:
        d.rect(x, y, width, foot - y, material, "h")


def apple(d, x, y, r):
    d.disc(x, y, r, "apple", "r", 1)
    d.stroke(f"M{x} {y - r * .8} q2 -{r * .4} {r * .3} -{r * .6}", "#3b2410", 3)


def grading_table(d):
    d.ground(500, 905, 480)
    legs(d, (110, 800), 560, "pine", 40)
    d.bar(130, 800, 830, 800, 22, "pine")
    d.poly([(60, 470), (820, 540), (940, 500), (190, 430)], "canvas")
    for i in range(13):
        t = i / 12
        x, y = 66 + 755 * t, 470 + 70 * t
        d.bar(x, y, x + 125, y - 40, 17, "pine")
    d.poly([(50, 474), (830, 544), (830, 610), (50, 540)], "green paint")
    d.poly([(830, 544), (948, 502), (948, 566), (830, 610)], "green paint", "d")
    for i, (x, y) in enumerate(((240, 455), (330, 470), (420, 470), (500, 486), (610, 492), (700, 500), (560, 480))):
        apple(d, x + 30, y - 4, 27 - i)
    d.wheel(150, 690, 95, "cast", 5, curved=True)
    d.text(440, 575, "SIZE 1 - 2 - 3", 34, "#f4ead0", .85, turn=5)


def crate(d, x, y, w=300, h=150, deep=70, material="pine", label=""):
    d.box(x, y, w, h, material, deep)
    d.add(f'<path d="M{x + 12} {y - 3} l{deep * .8 - 6} {-deep * .45 + 6} h{w - 22} l{-deep * .8 + 6} {deep * .45 - 6} Z" '
          'fill="#1a0f05" fill-opacity=".75"/>')
    d.planks(x, y, w, h, 3, material, gap=7)
    for px in (x, x + w - 24):
        d.rect(px, y, 24, h, material, "h")
    d.add(f'<rect x="{x + w * .38}" y="{y + 14}" width="{w * .24}" height="20" rx="10" fill="#1a0f05" fill-opacity=".8"/>')
    if label:
        d.text(x + w / 2, y + h * .62, label, h * .24, "#5a1d10", .8)


def crates(d):
    d.ground(500, 905, 480)
    for row in range(4):
        for col in range(3):
            jitter = d.random.uniform(-12, 12)
            crate(d, 80 + col * 270 + jitter, 750 - row * 152, 258, 146, 60,
                  "pine" if (row + col) % 3 else "grey wood", "HALLOWBY" if (row * 3 + col) % 2 else "")
    for i in range(7):
        apple(d, 120 + i * 33, 280 + (i % 2) * 6, 25)


def sack_barrow(d):
    d.ground(500, 905, 300)
    d.bar(300, 820, 640, 120, 30, "oak")
    d.bar(430, 870, 770, 160, 30, "oak")
    for t in (.16, .36, .56, .76):
        x, y = 300 + 340 * t, 820 - 700 * t
        d.bar(x + 6, y, x + 130, y + 44, 26, "oak")
    d.bar(640, 120, 700, 80, 34, "iron")
    d.bar(770, 160, 830, 118, 34, "iron")
    d.poly([(270, 815), (430, 872), (330, 905), (160, 850)], "iron")
    d.wheel(340, 800, 98, "cast", 5, squash=.8)
    d.wheel(500, 815, 88, "cast", 5, squash=.8)


def platform_scale(d):
    d.ground(500, 905, 400)
    d.box(180, 800, 560, 90, "cast", 130)
    d.poly([(196, 800), (290, 748), (830, 748), (738, 800)], "steel")
    for i in range(1, 8):
        d.stroke(f"M{200 + i * 66} 798 l92 -48", "#3a4047", 4, .6)
    d.rect(670, 240, 74, 540, "green paint", "h", 6)
    d.text(708, 520, "500 KG", 40, "#f0e6c0", .9, turn=90)
    d.rect(480, 210, 430, 46, "brass", "v", 8)
    for i in range(26):
        d.stroke(f"M{496 + i * 16} 216 v{20 if i % 5 else 32}", "#3b2a06", 3, .8)
    d.cylinder(590, 196, 56, 66, "brass")
    d.bar(880, 256, 880, 400, 9, "iron")
    d.cylinder(880, 400, 110, 30, "cast")
    d.cylinder(880, 366, 76, 34, "brass")
    for x in (220, 700):
        d.wheel(x, 880, 34, "cast", 4)


def nailing_bench(d):
    d.ground(500, 905, 460)
    legs(d, (130, 780), 600, "oak", 54)
    d.box(70, 560, 800, 60, "oak", 110)
    d.planks(70, 560, 800, 60, 1, "oak")
    d.box(110, 740, 740, 24, "oak", 70)
    crate(d, 330, 410, 300, 130, 80)
    d.bar(700, 520, 800, 440, 22, "oak")
    d.rect(780, 402, 86, 46, "steel", "l", 6)
    for i in range(14):
        x, y = 150 + d.random.random() * 150, 520 + d.random.random() * 30
        d.stroke(f"M{x:.0f} {y:.0f} l22 -9", "#c6ccd0", 4)
    d.cylinder(190, 440, 90, 80, "rust", hole=True)
    d.cylinder(820, 690, 80, 50, "zinc", hole=True)


def stencil_set(d):
    d.ground(500, 905, 430)
    d.box(140, 690, 660, 200, "oak", 120)
    d.planks(140, 690, 660, 200, 2, "oak")
    d.plate(390, 760, 160, 60, "brass", ("STENCILS",))
    for k, (word, lean) in enumerate((("RUSSET", -7), ("PIPPIN", 4), ("No 1", -2))):
        x, y = 170 + k * 60, 330 + k * 130
        d.add(f'<g transform="rotate({lean} {x + 260} {y + 60})">')
        d.rect(x, y, 540, 128, "brass" if k != 1 else "zinc", "v", 6)
        d.text(x + 270, y + 92, word, 88, "#1c1206", .92, family="DejaVu Sans Mono")
        d.bolts([(x + 24, y + 24), (x + 516, y + 24), (x + 24, y + 104), (x + 516, y + 104)], 7, "iron")
        d.add("</g>")
    d.cylinder(870, 600, 100, 120, "black", hole=True)
    d.bar(880, 600, 930, 440, 14, "oak")


def roller_conveyor(d):
    d.ground(500, 905, 480)
    legs(d, (130, 470, 800), 610, "steel", 26)
    for i in range(19):
        x = 70 + i * 43
        d.bar(x, 566, x + 112, 506, 26, "zinc")
    d.poly([(50, 560), (870, 560), (870, 622), (50, 622)], "red paint")
    d.bolts([(74 + i * 43, 590) for i in range(19)], 8, "steel")
    crate(d, 470, 412, 210, 110, 60)


def ladders(d):
    d.ground(480, 905, 400)
    for k, (x, lean) in enumerate(((130, 120), (330, 60), (540, 150))):
        top = 60 + k * 40
        d.bar(x, 895, x + lean + 70, top, 26, "pine")
        d.bar(x + 190 - k * 16, 900, x + lean + 120, top, 26, "pine")
        for i in range(1, 10):
            t = i / 10
            y = 895 - (895 - top) * t
            d.bar(x + (lean + 70) * t, y, x + 190 - k * 16 + (lean - 70 + k * 16) * t, y + 3, 17, "oak")
    d.bar(700, 895, 690, 200, 18, "pine")


def picking_bags(d):
    d.ground(500, 905, 380)
    for x, y, s in ((300, 470, 1), (560, 420, 1.1), (430, 600, 1.15)):
        d.tube(f"M{x - 90 * s} {y + 40} q{90 * s} -{330 * s} {180 * s} 0", 26 * s, "leather")
        d.path(f"M{x - 140 * s} {y} q{140 * s} 46 {280 * s} 0 l{34 * s} {240 * s} q-{170 * s} {80 * s} -{348 * s} 0 Z", "canvas")
        d.path(f"M{x - 140 * s} {y} q{140 * s} 46 {280 * s} 0 q-{140 * s} -46 -{280 * s} 0 Z", "leather", "d")
        for i in range(5):
            d.stroke(f"M{x - 110 * s + i * 55 * s} {y + 40} q{10 - i * 4} 80 {-14 + i * 8} 160", "#6b5f40", 3, .4)
        d.text(x, y + 160 * s, "H.O.", 54 * s, "#3f3420", .6)
    for x in (250, 760, 690):
        apple(d, x, 878, 26)


def wicker_baskets(d):
    d.ground(500, 905, 440)
    for x, y, w, h in ((200, 560, 300, 300), (520, 520, 340, 350), (360, 280, 280, 240)):
        d.path(f"M{x} {y} h{w} l{-w * .12} {h} q{-w * .38} {h * .14} {-w * .76} 0 Z", "wicker", "h")
        rows, cols = 9, 12
        for i in range(rows):
            for j in range(cols):
                t = (i + .5) / rows
                a, b = x + w * .12 * t, x + w - w * .12 * t
                cx = a + (b - a) * (j + .5) / cols
                if (i + j) % 2:
                    d.stroke(f"M{cx - w / 30:.0f} {y + h * t:.0f} q{w / 30:.0f} {h / 40:.0f} {w / 15:.0f} 0", "#f2d7a4", h / 16, .75)
                else:
                    d.stroke(f"M{cx:.0f} {y + h * t - h / 26:.0f} v{h / 13:.0f}", "#5e4018", 7, .7)
        d.ellipse(x + w / 2, y, w / 2 + 8, 34, "wicker", "v")
        d.dark(x + w / 2, y, w / 2 - 16, 22)
        d.tube(f"M{x + 14} {y} q{w / 2 - 14} -{h * .75} {w - 28} 0", 17, "wicker")


def chain_hoist(d):
    d.ground(500, 905, 200)
    d.bar(60, 130, 940, 130, 70, "dark wood")
    d.tube("M500 160 v60", 20, "iron")
    d.disc(500, 300, 120, "red paint")
    d.gear(500, 300, 84, 18, "cast")
    for x, top, bottom in ((400, 320, 860), (600, 320, 560)):
        for i, y in enumerate(range(top, bottom, 27)):
            d.add(f'<ellipse cx="{x}" cy="{y}" rx="{11 if i % 2 else 5}" ry="19" fill="none" stroke="#1b1e22" stroke-width="8"/>'
                  f'<ellipse cx="{x - 1}" cy="{y - 1}" rx="{11 if i % 2 else 5}" ry="19" fill="none" stroke="#9aa1a8" stroke-width="3.4"/>')
    d.rect(560, 560, 80, 80, "red paint", "h", 12)
    d.tube("M600 640 v30 q0 76 -58 76 q-56 0 -52 -50", 25, "steel")
    d.text(600, 612, "1 T", 36, "#fff", .9)


def trunk(d):
    d.ground(500, 905, 430)
    d.box(110, 560, 660, 330, "leather", 170)
    d.path("M110 560 q0 -110 20 -116 l136 -76 h640 q-10 14 -16 116 l-130 76 Z", "leather")
    d.rect(110, 470, 660, 96, "leather", "l", 10)
    for x in (210, 420, 630):
        d.rect(x, 470, 40, 420, "oak", "h")
        d.bolts([(x + 20, y) for y in range(500, 890, 62)], 7, "brass")
    for x, y in ((110, 850), (730, 850), (110, 560), (730, 560)):
        d.rect(x, y, 44, 44, "brass", "v", 5)
    d.rect(470, 540, 90, 90, "brass", "v", 8)
    d.dark(515, 590, 9, 16)
    d.rect(270, 640, 130, 90, "paper", "v", 3, 1)
    d.text(335, 695, "S.S. ARDMOOR", 16, "#8a2218")
    d.ellipse(680, 740, 52, 40, "blue paint", "v", 1)
    d.text(680, 748, "HOTEL", 22, "#fff")


def rolltop_desk(d):
    d.ground(500, 905, 460)
    d.box(90, 560, 250, 330, "oak", 90)
    d.box(580, 560, 250, 330, "oak", 90)
    for x in (110, 600):
        for y in (590, 690, 790):
            d.rect(x, y, 210, 84, "oak", "v", 5)
            d.grain(x, y, 210, 84, "#5d3a17")
            d.tube(f"M{x + 80} {y + 40} q25 20 50 0", 9, "brass")
    d.box(70, 500, 790, 62, "oak", 120)
    d.path("M90 500 Q100 260 330 240 H800 Q850 250 850 300 V500 Z", "dark wood", "d")
    d.path("M120 490 Q124 280 330 256 H800 Q826 262 826 300 V490 Z", "black", "d")
    for i in range(6):
        d.rect(300 + i * 84, 340, 78, 120, "oak", "v", 2)
        d.dark(339 + i * 84, 386, 32, 40, .7)
    d.path("M120 400 Q130 280 330 256 H800 Q826 262 826 300 V330 H250 Q160 340 150 400 Z", "oak")
    for i in range(7):
        d.stroke(f"M{150 + i * 16} {390 - i * 22} H826", "#4a2c0e", 4, .55)
    d.rect(420, 488, 190, 12, "paper", "v", 2, 1)
    d.bar(620, 492, 690, 470, 8, "black")


def safe(d):
    d.ground(500, 905, 400)
    d.box(190, 250, 540, 620, "green paint", 140, 10)
    d.rect(240, 300, 440, 520, "green paint", "d", 8, 6)
    d.add('<rect x="262" y="322" width="396" height="476" fill="none" stroke="#d8b45c" stroke-width="6"/>')
    for y in (360, 690):
        d.rect(212, y, 44, 90, "brass", "h", 8)
    d.disc(460, 520, 74, "brass")
    d.disc(460, 520, 50, "iron")
    for k in range(20):
        a = k * math.pi / 10
        d.stroke(f"M{460 + 56 * math.cos(a):.0f} {520 + 56 * math.sin(a):.0f} L{460 + 70 * math.cos(a):.0f} {520 + 70 * math.sin(a):.0f}",
                 "#3b2a06", 4)
    d.bar(560, 650, 630, 650, 26, "brass")
    d.bar(595, 610, 595, 690, 18, "brass")
    d.plate(350, 370, 220, 70, "brass", ("THORNE &amp; LUND", "FIRE RESISTING"))
    for x in (210, 660):
        d.rect(x, 868, 70, 32, "cast", "h", 6)


def typewriter(d):
    d.ground(500, 905, 420)
    d.box(120, 720, 740, 24, "oak", 120)
    legs(d, (150, 790), 740, "oak", 40)
    d.path("M210 720 l30 -150 q260 -80 520 0 l40 150 Z", "black", "v")
    d.path("M270 560 q230 -70 460 0 v-120 q-230 -60 -460 0 Z", "black", "l")
    d.drum(210, 410, 560, 44, "rubber")
    d.drum(180, 410, 40, 26, "steel")
    d.drum(800, 410, 40, 26, "steel")
    d.rect(340, 200, 300, 200, "paper", "v", 2, 1)
    for i in range(5):
        d.stroke(f"M368 {240 + i * 30} h{240 - (i * 53) % 90}", "#59585a", 5, .7)
    for row in range(4):
        for i in range(10):
            x, y = 282 + row * 9 + i * 46, 574 + row * 36
            d.ellipse(x, y, 17, 13, "ivory", "r", 2)
            d.text(x, y + 6, "QWERTYUIOPASDFGHJKLZXCVBNM1234567890.,-;"[(row * 10 + i) % 40], 16)
    d.text(500, 520, "Corvane", 46, "#e6c66b", .95, family="DejaVu Serif")


def wall_clock(d):
    d.path("M330 260 q170 -200 340 0 v480 q-20 130 -170 150 q-150 -20 -170 -150 Z", "dark wood", "h", 4)
    d.rect(390, 520, 220, 300, "black", "d", 10)
    d.bar(500, 500, 480, 730, 9, "brass")
    d.disc(478, 742, 52, "brass")
    d.disc(500, 350, 168, "brass")
    d.disc(500, 350, 146, "ivory")
    for k, numeral in enumerate(("XII", "I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI")):
        a = k * math.pi / 6
        d.text(500 + 116 * math.sin(a), 350 - 116 * math.cos(a) + 12, numeral, 34, family="DejaVu Serif")
    d.stroke("M500 350 L430 400", "#141014", 13)
    d.stroke("M500 350 L520 245", "#141014", 9)
    d.disc(500, 350, 13, "brass")
    d.text(500, 300, "Penhallig", 22, weight="normal", family="DejaVu Serif")
    d.path("M400 190 q100 -120 200 0 q-100 -40 -200 0 Z", "dark wood")
    d.disc(500, 110, 26, "dark wood")


def card_drawers(d):
    d.ground(500, 905, 400)
    d.box(150, 230, 600, 640, "oak", 140)
    for i in range(6):
        for j in range(3):
            x, y = 172 + j * 190, 252 + i * 102
            d.rect(x, y, 176, 90, "oak", "v", 3)
            d.grain(x, y, 176, 90, "#5d3a17", lines=3)
            d.rect(x + 48, y + 14, 80, 32, "brass", "v", 2, 1)
            d.rect(x + 54, y + 19, 68, 22, "paper", "v", 0, 1)
            d.disc(x + 88, y + 66, 10, "brass")
    d.rect(150, 868, 600, 32, "dark wood")


def screw_press(d):
    d.ground(500, 905, 470)
    d.box(150, 800, 640, 80, "oak", 120)
    for x in (180, 720):
        d.rect(x, 860, 80, 40, "dark wood")
    d.rect(170, 190, 70, 620, "green paint", "h", 4)
    d.rect(760, 190, 70, 620, "green paint", "h", 4)
    d.path("M140 130 q360 -70 720 0 v110 q-360 -50 -720 0 Z", "green paint", "v", 3)
    d.text(318, 192, "BRAMWICK", 44, "#f1e3b2", .95)
    d.text(670, 192, "No 4", 44, "#f1e3b2", .95)
    d.rect(462, 90, 76, 420, "steel", "h")
    for y in range(96, 500, 19):
        d.stroke(f"M462 {y + 9} L538 {y}", "#30353b", 6, .85)
    d.bar(180, 78, 820, 66, 34, "iron")
    d.disc(188, 78, 32, "iron")
    d.disc(812, 66, 32, "iron")
    d.cylinder(500, 40, 130, 60, "cast")
    d.cylinder(500, 506, 360, 44, "oak")
    d.cylinder(500, 470, 180, 40, "cast")
    d.cylinder(500, 560, 430, 220, "dark wood")
    for i in range(15):
        t = i / 14
        x = 500 - 212 + 424 * t
        sag = 46 * (1 - (2 * t - 1) ** 2) ** .5
        d.rect(x - 11, 548 + sag, 22, 226, "oak", "h", 3)
    for y in (590, 740):
        d.path(f"M284 {y} a216 48 0 0 0 432 0 v22 a216 48 0 0 1 -432 0 Z", "iron", "h")
    d.path("M250 800 q250 60 500 0 l40 -30 h-580 Z", "stone", "v")
    d.path("M250 800 l-70 40 v18 l90 -30 Z", "copper")


def scratter(d):
    d.ground(500, 905, 420)
    legs(d, (230, 680), 600, "oak", 50)
    d.bar(250, 800, 760, 800, 28, "oak")
    d.path("M150 190 h700 l-150 230 h-400 Z", "oak", "v", 3)
    d.path("M150 190 l70 -40 h700 l-70 40 Z", "pine", "v")
    d.path("M176 186 l56 -28 h650 l-44 28 Z", "black", "d")
    d.path("M850 190 l70 -40 l-150 230 l-70 40 Z", "dark wood", "v")
    for x in (330, 450, 570):
        d.stroke(f"M{x} 196 l{(500 - x) * .3} 220", "#4b2d0d", 3, .5)
    d.rect(290, 420, 430, 190, "cast", "v", 8)
    d.drum(330, 510, 330, 66, "iron")
    for i in range(9):
        for j in range(3):
            d.disc(350 + i * 38, 474 + j * 36, 8, "steel", "r", 1)
    d.wheel(240, 510, 210, "red paint", 6, .1, curved=True)
    d.bar(240, 510, 120, 640, 20, "iron")
    d.bar(120, 640, 60, 650, 28, "oak")
    d.gear(730, 470, 80, 16, "cast")
    d.gear(770, 580, 52, 12, "cast")
    d.text(520, 300, "WINTERBYNE", 52, "#3a1d08", .85)
    for i in range(7):
        apple(d, 330 + i * 62, 168 - (i % 3) * 13, 31)


def copper_vat(d):
    d.ground(480, 905, 420)
    d.cylinder(440, 330, 560, 500, "copper")
    d.stains(180, 380, 520, 420, 12, "#3f7f6c", .45)
    for y in (400, 560, 720):
        d.path(f"M160 {y} a280 62 0 0 0 560 0 v16 a280 62 0 0 1 -560 0 Z", "brass", "h", 1)
        d.bolts([(440 + 270 * math.sin(a), y + 8 + 60 * math.cos(a)) for a in (-1.2, -.8, -.4, 0, .4, .8, 1.2)], 6, "brass")
    d.path("M160 330 a280 62 0 0 0 560 0 q-60 -170 -210 -190 h-140 q-150 20 -210 190 Z", "copper", "h")
    d.cylinder(440, 100, 130, 60, "copper")
    d.tube("M440 110 q10 -70 150 -60 q250 10 280 250 v300", 42, "copper")
    d.cylinder(870, 590, 170, 290, "oak")
    for y in (640, 800):
        d.path(f"M785 {y} a85 20 0 0 0 170 0 v16 a85 20 0 0 1 -170 0 Z", "iron", "h")
    d.tube("M440 850 v24 h110", 26, "brass")
    d.bar(520, 840, 580, 840, 12, "brass")
    for x in (240, 600):
        d.rect(x, 830, 60, 70, "clay", "v")


def stoneware_jar(d, cx, y, w, h, word="", top="brown glaze"):
    d.path(f"M{cx - w / 2} {y + h * .34} q0 -{h * .24} {w * .36} -{h * .28} h{w * .28} q{w * .36} {h * .04} {w * .36} {h * .28} "
           f"v{h * .62} q-{w / 2} {h * .09} -{w} 0 Z", "stoneware", "h")
    d.path(f"M{cx - w / 2} {y + h * .36} q0 -{h * .26} {w * .36} -{h * .3} h{w * .28} q{w * .36} {h * .04} {w * .36} {h * .3} "
           f"q-{w / 2} {h * .07} -{w} 0 Z", top, "h")
    d.cylinder(cx, y, w * .3, h * .1, top)
    d.dark(cx, y, w * .1, w * .025)
    d.tube(f"M{cx + w * .14} {y + h * .05} q{w * .4} 0 {w * .26} {h * .2}", w * .08, top)
    d.add(f'<path d="M{cx - w * .34} {y + h * .3} q-{w * .05} {h * .3} 0 {h * .55}" stroke="#fff" stroke-opacity=".5" '
          f'stroke-width="{w * .06}" fill="none" stroke-linecap="round"/>')
    if word:
        d.text(cx, y + h * .66, word, w * .16, "#3a2410", .8, family="DejaVu Serif")


def stoneware_jars(d):
    d.ground(500, 905, 460)
    for i, x in enumerate((170, 390, 610, 830)):
        stoneware_jar(d, x - 20, 330 + (i % 2) * 30, 200, 380)
    for i, x in enumerate((150, 400, 660, 870)):
        stoneware_jar(d, x, 500 + (i % 2) * 20, 240 - i % 2 * 20, 392, ("No 3", "CIDER", "CIDER", "VINEGAR")[i])


def demijohn(d, cx, y, w, h, colour):
    d.add(f'<path d="M{cx - w * .09} {y} v{h * .16} q-{w * .42} {h * .1} -{w * .41} {h * .42} q0 {h * .42} {w * .26} {h * .42} '
          f'h{w * .48} q{w * .26} 0 {w * .26} -{h * .42} q0 -{h * .32} -{w * .41} -{h * .42} v-{h * .16} Z" fill="{colour}" '
          'fill-opacity=".62" stroke="#0e2010" stroke-opacity=".8" stroke-width="4"/>')
    d.add(f'<path d="M{cx - w * .34} {y + h * .4} q-{w * .08} {h * .24} {w * .03} {h * .48}" stroke="#fff" stroke-opacity=".75" '
          f'stroke-width="{w * .06}" fill="none" stroke-linecap="round"/>'
          f'<path d="M{cx + w * .36} {y + h * .5} q{w * .03} {h * .2} -{w * .04} {h * .36}" stroke="#fff" stroke-opacity=".35" '
          f'stroke-width="{w * .03}" fill="none" stroke-linecap="round"/>')
    d.rect(cx - w * .11, y - 8, w * .22, h * .05, "canvas", "h", 6, 1)


def demijohns(d):
    d.ground(500, 905, 470)
    for x, c in ((220, "#4f8a5c"), (470, "#3b7a62"), (720, "#6c9a4c")):
        demijohn(d, x, 320, 250, 400, c)
    for i, (x, c) in enumerate(((160, "#3f8a6a"), (420, "#5f9a48"), (690, "#3c7f58"))):
        demijohn(d, x + 20, 420, 310, 480, c)
        d.path(f"M{x - 135} 700 h310 q10 200 -60 200 h-190 q-70 0 -60 -200 Z", "wicker", "h")
        for row in range(5):
            for j in range(9):
                d.stroke(f"M{x - 122 + j * 33 + (row % 2) * 12} {722 + row * 36} q9 9 18 0", "#f2d7a4", 13, .7)


def corker(d):
    d.ground(500, 905, 280)
    for x in (330, 670):
        d.bar(500, 640, x, 890, 30, "cast")
    d.bar(500, 640, 540, 860, 26, "cast")
    d.rect(470, 150, 60, 500, "red paint", "h", 8)
    d.path("M400 240 h200 v120 q-100 60 -200 0 Z", "red paint", "h")
    d.disc(500, 290, 46, "brass")
    d.bar(500, 200, 830, 60, 28, "cast")
    d.disc(840, 56, 34, "oak")
    d.bar(620, 150, 560, 300, 18, "steel")
    d.cylinder(500, 640, 170, 34, "cast")
    d.add('<path d="M478 400 v60 q-40 30 -40 80 v100 h124 v-100 q0 -50 -40 -80 v-60 Z" fill="#2f6b3f" fill-opacity=".85" '
          'stroke="#0a1f0e" stroke-width="4"/><path d="M456 540 v90" stroke="#fff" stroke-opacity=".6" stroke-width="9"/>')
    d.rect(486, 372, 28, 40, "pine", "h", 4)


def boiler(d):
    d.ground(500, 905, 450)
    d.rect(620, 40, 96, 340, "cast", "h")
    d.rect(606, 150, 124, 26, "cast", "l")
    d.cylinder(480, 330, 560, 520, "cast")
    d.path("M200 330 a280 62 0 0 0 560 0 q-40 -120 -280 -124 q-240 4 -280 124 Z", "cast", "h")
    for y in (390, 600, 800):
        d.path(f"M200 {y} a280 62 0 0 0 560 0 v22 a280 62 0 0 1 -560 0 Z", "iron", "h")
        d.bolts([(480 + 272 * math.sin(a / 6), y + 12 + 60 * math.cos(a / 6)) for a in range(-8, 9)], 8, "steel")
    d.rect(370, 640, 220, 170, "cast", "v", 12, 5)
    d.rect(390, 660, 180, 60, "rust", "d", 6)
    for x in range(404, 570, 26):
        d.add(f'<rect x="{x}" y="664" width="12" height="52" fill="#0b0705"/>')
    d.bar(380, 740, 330, 780, 18, "steel")
    d.disc(480, 480, 82, "brass")
    d.disc(480, 480, 66, "ivory")
    for k in range(11):
        a = math.pi * (.75 + k * .15)
        d.stroke(f"M{480 + 50 * math.cos(a):.0f} {480 + 50 * math.sin(a):.0f} L{480 + 60 * math.cos(a):.0f} {480 + 60 * math.sin(a):.0f}",
                 "#222", 5)
    d.stroke("M480 480 L446 440", "#b3221a", 8)
    d.tube("M750 460 h90 v-140", 34, "copper")
    d.wheel(840, 300, 52, "red paint", 5)
    d.stains(220, 420, 520, 420, 14, "#8a4722", .6)
    for x in (250, 640):
        d.rect(x, 850, 80, 50, "cast", "h")


def belt_pump(d):
    d.ground(500, 905, 440)
    d.box(120, 800, 720, 80, "oak", 90)
    d.rect(420, 560, 360, 240, "green paint", "v", 30)
    d.cylinder(600, 330, 190, 250, "green paint")
    d.disc(600, 330, 95, "green paint")
    d.tube("M780 660 h120 v-330 h60", 50, "cast")
    d.bolts([(800, 630), (800, 690), (930, 300), (930, 360)], 10)
    d.wheel(290, 590, 235, "cast", 6, .12)
    d.add('<path d="M290 355 L1000 180 M290 825 L1000 420" stroke="#5b3a1f" stroke-width="26" stroke-opacity=".9"/>')
    d.plate(500, 640, 200, 90, "brass", ("MERRODEW PUMP", "No 2217"))
    d.wheel(600, 250, 46, "brass", 5)


def compressor(d):
    d.ground(500, 905, 470)
    d.box(90, 790, 780, 90, "grey paint", 90)
    d.drum(120, 700, 330, 96, "blue paint")
    d.bolts([(150 + i * 60, 618) for i in range(5)], 8)
    for x in (500, 640):
        d.cylinder(x + 50, 400, 120, 330, "blue paint")
        for y in range(430, 640, 30):
            d.path(f"M{x - 20} {y} a70 16 0 0 0 140 0 v12 a70 16 0 0 1 -140 0 Z", "steel", "h", 1)
        d.cylinder(x + 50, 370, 140, 40, "cast")
    d.wheel(820, 600, 200, "cast", 6, .13, squash=.6)
    d.tube("M550 370 q0 -120 -180 -110 q-180 10 -180 340", 30, "steel")
    d.tube("M690 370 q10 -180 -260 -190 h-300", 26, "copper")
    for x in (330, 430):
        d.disc(x, 530, 52, "brass")
        d.disc(x, 530, 42, "ivory")
        d.stroke(f"M{x} 530 l{-20 + (x - 330) * .4} -24", "#b3221a", 6)
    d.poly([(230, 690), (330, 690), (280, 606)], "orange paint", "d", 4)
    d.text(280, 682, "!", 64, "#1b1206")


def pallet_truck(d):
    d.ground(500, 905, 460)
    d.poly([(90, 800), (560, 740), (700, 760), (240, 838)], "orange paint")
    d.poly([(250, 850), (700, 780), (860, 806), (420, 896)], "orange paint")
    d.poly([(90, 800), (240, 838), (240, 862), (90, 822)], "orange paint", "d")
    d.poly([(250, 850), (420, 896), (420, 916), (250, 872)], "orange paint", "d")
    d.box(600, 600, 200, 190, "orange paint", 80, 8)
    d.drum(640, 540, 90, 44, "steel")
    d.bar(720, 600, 860, 160, 34, "orange paint")
    d.tube("M800 190 q-10 -90 70 -90 q80 20 50 100 Z", 24, "black")
    d.cylinder(720, 560, 90, 70, "cast")
    for x, y in ((700, 850), (800, 842)):
        d.ellipse(x, y, 38, 52, "black")
        d.ellipse(x, y, 16, 22, "steel")
    for x, y in ((150, 838), (330, 892)):
        d.disc(x, y, 22, "black")


def dial_thermometer(d):
    d.tube("M500 560 v220 q0 90 130 90 h300", 22, "copper")
    d.disc(500, 360, 230, "brass")
    d.disc(500, 360, 200, "ivory")
    for k in range(31):
        a = math.pi * (.78 + k * 1.44 / 30)
        r1 = 150 if k % 5 else 138
        d.stroke(f"M{500 + r1 * math.cos(a):.0f} {360 + r1 * math.sin(a):.0f} L{500 + 176 * math.cos(a):.0f} {360 + 176 * math.sin(a):.0f}",
                 "#20242a", 4 if k % 5 else 8)
        if k % 5 == 0:
            d.text(500 + 112 * math.cos(a), 360 + 112 * math.sin(a) + 12, str(k * 2 - 20), 34)
    d.add('<path d="M344 440 A176 176 0 0 1 330 310" fill="none" stroke="#2f6fb0" stroke-width="18" stroke-opacity=".8"/>')
    d.text(500, 440, "°C", 44)
    d.text(500, 480, "Halvarsen", 26, weight="normal", family="DejaVu Serif")
    d.stroke("M530 380 L392 300", "#a3161a", 12)
    d.disc(500, 360, 22, "brass")
    d.bolts([(500 + 215 * math.cos(a), 360 + 215 * math.sin(a)) for a in (.5, 2.6, 3.9, 5.5)], 10, "steel")


def ripening_trays(d):
    d.ground(500, 905, 460)
    for i in range(9):
        y = 820 - i * 74
        x = 120 + d.random.uniform(-14, 14)
        d.box(x, y, 640, 50, "pine" if i % 2 else "grey wood", 120)
        d.add(f'<path d="M{x + 16} {y - 4} l84 -44 h604 l-84 44 Z" fill="#1a0f05" fill-opacity=".7"/>')
        for k in range(5):
            d.stroke(f"M{x + 110 + k * 118} {y - 4} l84 -44", "#c99f63", 12, .9)
        d.rect(x, y + 50, 46, 24, "pine", "h")
        d.rect(x + 594, y + 50, 46, 24, "pine", "h")
    for i in range(8):
        apple(d, 250 + i * 62, 196 - (i % 2) * 16, 26)


def barrels(d):
    d.ground(500, 905, 480)
    d.cask(270, 300, 290, 300)
    d.cask(560, 280, 290, 310)
    d.cask(190, 530, 320, 350)
    d.cask(500, 540, 330, 350)
    d.cask(800, 520, 320, 360, "dark wood")
    d.text(500, 730, "H 14", 54, "#1a0d04", .7)
    d.text(190, 720, "H 9", 50, "#1a0d04", .7)
    d.disc(800, 700, 18, "brass")


def anvil(d):
    d.ground(500, 905, 300)
    d.cylinder(500, 620, 330, 270, "oak")
    for i in range(6):
        d.add(f'<ellipse cx="500" cy="620" rx="{30 + i * 25}" ry="{6 + i * 5}" fill="none" stroke="#6b4218" stroke-width="3" stroke-opacity=".6"/>')
    d.path("M400 620 q30 -60 40 -160 h110 q10 100 60 160 Z", "iron", "h")
    d.path("M330 460 h320 q170 -10 260 -110 q-110 30 -240 30 h-340 Z", "steel", "v", 3)
    d.path("M330 380 h330 v90 q-160 40 -330 0 Z", "iron", "v")
    d.rect(326, 362, 344, 34, "steel", "v", 4)
    d.dark(390, 378, 14, 6)
    d.bar(200, 880, 330, 700, 20, "oak")
    d.rect(300, 640, 90, 62, "iron", "v", 8)


def shaving_horse(d):
    d.ground(500, 905, 460)
    for x in (170, 330, 800):
        d.bar(x, 660, x - 60 + x * .1, 890, 34, "oak")
    d.poly([(80, 600), (900, 640), (900, 700), (80, 660)], "oak")
    d.poly([(80, 600), (160, 560), (960, 600), (900, 640)], "pine")
    d.poly([(120, 560), (560, 500), (620, 530), (190, 600)], "oak")
    d.bar(440, 820, 380, 330, 40, "oak")
    d.bar(520, 820, 460, 330, 40, "oak")
    d.rect(320, 290, 210, 80, "dark wood", "v", 14)
    d.bar(380, 810, 580, 812, 30, "oak")
    d.poly([(150, 556), (420, 400), (440, 420), (180, 584)], "pine")
    d.ellipse(800, 600, 110, 36, "leather", "v")
    for i in range(14):
        x = 120 + d.random.random() * 500
        d.stroke(f"M{x:.0f} {880 + d.random.random() * 24:.0f} q24 -34 44 0", "#f0d5a0", 7)


def hoop_iron(d):
    d.ground(500, 905, 420)
    for cx, cy, n, r0, c in ((340, 660, 9, 120, "rust"), (700, 700, 8, 100, "iron"), (520, 420, 8, 110, "rust")):
        for i in range(n):
            r = r0 + i * 13
            d.add(f'<ellipse cx="{cx}" cy="{cy}" rx="{r}" ry="{r}" fill="none" stroke="#150c06" stroke-width="12"/>'
                  f'<ellipse cx="{cx}" cy="{cy}" rx="{r}" ry="{r}" fill="none" stroke="{"#8d5a3a" if c == "rust" else "#6d747b"}" '
                  f'stroke-width="7"/><path d="M{cx - r * .7:.0f} {cy - r * .7:.0f} A{r} {r} 0 0 1 {cx + r * .5:.0f} {cy - r * .86:.0f}" '
                  'fill="none" stroke="#e9d9c8" stroke-opacity=".55" stroke-width="4"/>')
        for a in (.4, 2.5, 4.6):
            x, y = cx + (r0 + n * 6) * math.cos(a), cy + (r0 + n * 6) * math.sin(a)
            d.add(f'<g transform="rotate({a * 57.3:.0f} {x:.0f} {y:.0f})">')
            d.rect(x - n * 8, y - 10, n * 16, 20, "steel", "v", 6)
            d.add("</g>")


def stave_jointer(d):
    d.ground(500, 905, 460)
    d.bar(760, 640, 690, 890, 36, "dark wood")
    d.bar(830, 660, 900, 895, 36, "dark wood")
    d.poly([(60, 780), (880, 540), (910, 600), (90, 850)], "oak")
    d.poly([(60, 780), (120, 740), (930, 506), (880, 540)], "pine")
    d.poly([(880, 540), (930, 506), (960, 566), (910, 600)], "dark wood")
    d.poly([(440, 655), (490, 610), (590, 580), (540, 628)], "black", "d")
    d.poly([(470, 648), (430, 560), (520, 536), (556, 616)], "steel")
    d.poly([(520, 600), (500, 540), (560, 520), (590, 586)], "dark wood")
    d.grain(150, 690, 600, 60, "#5d3a17", lines=3)
    d.poly([(180, 560), (560, 420), (590, 450), (210, 596)], "pine")
    for i in range(16):
        x = 300 + d.random.random() * 420
        d.stroke(f"M{x:.0f} {870 + d.random.random() * 30:.0f} q28 -44 50 2", "#f0d5a0", 8)


def tool_rack(d):
    d.rect(60, 130, 880, 130, "oak", "v", 6)
    d.grain(60, 130, 880, 130, "#5d3a17", lines=10)
    d.rect(60, 600, 880, 80, "oak", "v", 6)
    for x in (150, 330):
        d.bar(x - 60, 320, x - 60, 230, 22, "dark wood")
        d.bar(x + 60, 320, x + 60, 230, 22, "dark wood")
        d.path(f"M{x - 76} 320 q76 110 152 0 l8 26 q-84 130 -168 0 Z", "steel")
    d.bar(470, 240, 470, 600, 26, "pine")
    d.path("M420 230 q50 -60 130 -30 q-20 50 -60 60 h-70 Z", "iron")
    d.bar(600, 240, 600, 560, 28, "pine")
    d.path("M540 210 h130 v70 h-130 Z", "iron", "v", 4)
    d.bar(740, 230, 720, 520, 24, "oak")
    d.path("M680 520 h80 q30 90 -40 120 q-70 -30 -40 -120 Z", "steel", "h")
    d.tube("M860 240 q70 20 60 130 q-10 130 -90 150", 16, "steel")
    d.bar(860, 240, 820, 230, 30, "oak")
    for x in (150, 260, 370):
        d.bar(x, 600, x, 470, 20, "oak")
        d.poly([(x - 13, 680), (x + 13, 680), (x + 18, 850), (x - 18, 850)], "steel", "h")
    d.bar(560, 640, 560, 870, 20, "steel")
    d.bar(500, 640, 620, 640, 34, "oak")
    d.bar(780, 690, 900, 860, 22, "oak")


def grindstone(d):
    d.ground(500, 905, 420)
    d.bar(230, 560, 150, 890, 36, "oak")
    d.bar(770, 560, 850, 890, 36, "oak")
    d.disc(500, 500, 300, "stone")
    d.disc(500, 500, 250, "stone", "d")
    for k in range(60):
        a, r = d.random.random() * 6.28, d.random.random() ** .5 * 280
        d.add(f'<circle cx="{500 + r * math.cos(a):.0f}" cy="{500 + r * math.sin(a):.0f}" r="{d.random.uniform(2, 6):.0f}" fill="#5a5347" fill-opacity=".5"/>')
    d.disc(500, 500, 42, "iron")
    d.poly([(120, 560), (880, 560), (880, 620), (120, 620)], "oak")
    d.grain(120, 560, 760, 60, "#4b2d0d", lines=8)
    d.path("M210 640 h580 q-30 190 -290 190 q-260 0 -290 -190 Z", "zinc", "v", 3)
    d.bar(500, 500, 650, 440, 20, "iron")
    d.bar(650, 440, 650, 370, 30, "oak")


def glass_panes(d):
    d.ground(500, 905, 440)
    for i in range(12):
        x = 140 + i * 34
        d.add(f'<path d="M{x} {880 - i * 3} L{x + 90} {200 + i * 8} L{x + 470} {230 + i * 8} L{x + 390} {890 - i * 2} Z" fill="#bfe6d8" '
              f'fill-opacity=".26" stroke="#2f6d5c" stroke-opacity=".75" stroke-width="4"/>')
    d.add('<path d="M600 860 L700 310 L780 316 L690 862 Z M560 850 L640 420 L660 420 L585 852 Z" fill="#ffffff" fill-opacity=".6"/>')
    d.box(90, 870, 760, 24, "pine", 40)
    d.bar(90, 880, 160, 620, 24, "pine")


def staging_bench(d):
    d.ground(500, 905, 480)
    legs(d, (90, 480, 850), 600, "grey wood", 36)
    d.bar(100, 800, 900, 800, 20, "grey wood")
    for i in range(7):
        y = 600 - i * 15
        d.poly([(60 + i * 16, y), (900 + i * 10, y), (906 + i * 10, y - 11), (68 + i * 16, y - 11)], "grey wood")
    d.rect(60, 600, 846, 34, "grey wood")
    for i, x in enumerate((180, 330, 500, 680, 810)):
        w = 110 - (i % 2) * 20
        d.path(f"M{x - w / 2} {470 + i % 2 * 12} h{w} l{-w * .16} 90 h{-w * .68} Z", "clay", "h")
        d.rect(x - w / 2 - 6, 452 + i % 2 * 12, w + 12, 26, "clay", "h", 4)
        for k in range(7):
            lean = d.random.uniform(-80, 80)
            d.stroke(f"M{x} {456 + i % 2 * 12} q{lean * .2:.0f} -70 {lean:.0f} {-d.random.uniform(70, 190):.0f}",
                     d.random.choice(["#5f9a3d", "#3f7a2f", "#86b957"]), 9)


def pot(d, cx, y, w, h):
    d.path(f"M{cx - w / 2} {y + h * .2} h{w} l{-w * .17} {h * .8} q{-w * .33} {h * .08} {-w * .66} 0 Z", "clay", "h")
    d.cylinder(cx, y, w * 1.1, h * .24, "clay", hole=True)


def clay_pots(d):
    d.ground(500, 905, 470)
    for col, x in enumerate((170, 390, 610, 830)):
        for i in range(4 + col % 2):
            pot(d, x + d.random.uniform(-10, 10), 700 - i * 98, 190, 190)
    for x in (270, 520, 740):
        pot(d, x, 770, 150, 130)
    d.path("M60 820 l150 -30 l30 80 l-160 24 Z", "clay", "h")
    d.dark(228, 830, 14, 40)


def watering_cans(d):
    d.ground(500, 905, 450)
    for x, y, s, m in ((300, 520, 1.15, "zinc"), (680, 600, .95, "green paint")):
        d.bar(x + 110 * s, y + 250 * s, x + 330 * s, y - 30 * s, 34 * s, m)
        d.ellipse(x + 345 * s, y - 46 * s, 62 * s, 30 * s, "brass", "v")
        for k in range(7):
            d.add(f'<circle cx="{x + (310 + k * 12) * s:.0f}" cy="{y - 46 * s:.0f}" r="3" fill="#3b2a06"/>')
        d.cylinder(x, y, 260 * s, 300 * s, m, hole=True)
        d.tube(f"M{x - 110 * s} {y} q{110 * s} -{210 * s} {220 * s} 0", 20 * s, m)
        d.tube(f"M{x - 128 * s} {y + 40 * s} q-{120 * s} {90 * s} 0 {190 * s}", 18 * s, m)
        d.path(f"M{x - 130 * s} {y + 150 * s} a{130 * s} {28 * s} 0 0 0 {260 * s} 0 v14 a{130 * s} {28 * s} 0 0 1 -{260 * s} 0 Z", m, "h")


def vent_winder(d):
    d.ground(500, 905, 240)
    d.bar(60, 120, 940, 120, 26, "white")
    for x in (180, 820):
        d.bar(x, 120, x + 90, 260, 18, "iron")
        d.bar(x + 90, 260, x + 30, 360, 18, "iron")
    d.bar(500, 120, 500, 760, 30, "iron")
    d.gear(500, 160, 74, 18, "cast")
    d.rect(430, 560, 140, 210, "cast", "v", 14)
    d.gear(500, 640, 60, 14, "brass")
    d.wheel(650, 700, 150, "green paint", 5, .14, curved=True)
    d.bar(760, 640, 840, 620, 26, "oak")
    d.rect(440, 770, 120, 130, "cast", "h")


def tiller(d):
    d.ground(480, 905, 460)
    d.bar(470, 560, 880, 250, 28, "red paint")
    d.bar(520, 590, 940, 300, 28, "red paint")
    d.bar(860, 264, 940, 200, 34, "rubber")
    d.bar(920, 312, 1000, 250, 34, "rubber")
    d.rect(220, 470, 330, 170, "red paint", "v", 24)
    d.rect(180, 400, 250, 120, "grey paint", "v", 12)
    for x in range(196, 424, 20):
        d.add(f'<rect x="{x}" y="408" width="8" height="104" fill="#1c2023" fill-opacity=".7"/>')
    d.ellipse(330, 370, 120, 52, "red paint", "v")
    d.cylinder(330, 326, 50, 26, "black")
    d.tube("M200 460 q-90 0 -90 90", 26, "rust")
    for k in range(10):
        a = k * math.pi / 5
        x, y = 200 + 132 * math.cos(a), 760 + 132 * math.sin(a)
        d.tube(f"M200 760 L{200 + 90 * math.cos(a):.0f} {760 + 90 * math.sin(a):.0f} L{x + 30 * math.cos(a + 1.3):.0f} {y + 30 * math.sin(a + 1.3):.0f}",
               20, "steel")
    d.disc(200, 760, 42, "cast")
    d.path("M60 700 q130 -160 290 0 l-20 26 q-120 -120 -250 -6 Z", "red paint")
    d.disc(500, 770, 132, "rubber")
    d.disc(500, 770, 66, "grey paint")
    for k in range(16):
        a = k * math.pi / 8
        d.bar(500 + 112 * math.cos(a), 770 + 112 * math.sin(a), 500 + 132 * math.cos(a + .1), 770 + 132 * math.sin(a + .1), 20, "rubber")
    d.text(386, 580, "BURROW 6", 48, "#fff4d8", .95)


def sprayer(d):
    d.ground(500, 905, 470)
    d.bar(700, 760, 980, 800, 30, "iron")
    d.drum(180, 520, 480, 200, "green paint")
    for x in (270, 560):
        d.path(f"M{x} 320 a60 200 0 0 1 0 400 h28 a60 200 0 0 0 0 -400 Z", "iron", "l")
    d.cylinder(420, 300, 150, 40, "cast")
    d.poly([(120, 700), (780, 700), (780, 760), (120, 760)], "iron")
    for x in (60, 880):
        d.bar(x, 330, x, 740, 20, "brass")
        for y in range(360, 740, 60):
            d.poly([(x - 16, y), (x + 16, y), (x + (30 if x > 500 else -30), y + 26), (x, y + 30)], "brass")
    d.tube("M420 280 q-200 -110 -360 60", 22, "rubber")
    d.tube("M420 280 q260 -110 460 60", 22, "rubber")
    d.wheel(330, 790, 118, "red paint", 8, .16)
    d.poly([(470, 590), (610, 590), (540, 470)], "orange paint", "d", 5)
    d.text(540, 580, "?", 84, "#1b1206")


def stationary_engine(d):
    d.ground(500, 905, 460)
    d.box(120, 800, 700, 80, "oak", 100)
    d.wheel(280, 560, 240, "red paint", 6, .12, curved=True)
    d.rect(330, 540, 420, 260, "green paint", "v", 20)
    d.path("M420 540 v-160 q0 -40 40 -40 h160 q40 0 40 40 v160 Z", "green paint", "h")
    d.cylinder(540, 320, 190, 50, "zinc", hole=True)
    d.wheel(770, 560, 220, "red paint", 6, .12, squash=.72, curved=True)
    d.tube("M660 430 h80 v-250", 34, "rust")
    d.rect(340, 460, 90, 130, "brass", "h", 10)
    d.bar(450, 680, 640, 680, 26, "steel")
    d.plate(470, 590, 180, 76, "brass", ("DRUMMOCH", "5 HP 650 RPM"))
    d.cylinder(380, 410, 60, 50, "brass")


def bench_vice(d):
    d.ground(500, 905, 430)
    d.box(80, 780, 780, 110, "oak", 110)
    d.path("M380 780 l40 -160 h180 l60 160 Z", "blue paint", "h", 3)
    d.drum(130, 590, 560, 60, "blue paint")
    d.path("M420 650 v-300 h150 v300 Z", "blue paint", "h", 3)
    d.path("M210 650 v-260 q0 -40 40 -40 h90 v300 Z", "blue paint", "h", 3)
    d.rect(330, 340, 40, 90, "steel", "h", 4)
    d.rect(400, 340, 40, 90, "steel", "h", 4)
    d.rect(420, 310, 220, 46, "blue paint", "v", 8)
    d.drum(90, 590, 60, 34, "steel")
    d.bar(110, 440, 110, 740, 22, "steel")
    d.disc(110, 440, 20, "steel")
    d.disc(110, 740, 20, "steel")
    d.text(500, 520, "RECKON", 34, "#e9f0f6", .9, turn=90)


def fuel_drum(d):
    d.ground(480, 905, 330)
    d.cylinder(480, 250, 440, 620, "blue paint")
    for y in (300, 450, 620, 820):
        d.path(f"M256 {y} a224 50 0 0 0 448 0 v24 a224 50 0 0 1 -448 0 Z", "blue paint", "h")
    d.ellipse(480, 250, 196, 40, "blue paint", "d", 3)
    d.ellipse(380, 250, 34, 10, "steel", "v")
    d.bar(560, 250, 560, 120, 28, "steel")
    d.tube("M560 140 h120 v60", 28, "red paint")
    d.bar(560, 130, 640, 80, 16, "steel")
    d.stains(270, 320, 420, 540, 18, "#9b4a1c", .75)
    d.poly([(400, 640), (560, 640), (480, 504)], "orange paint", "d", 5)
    d.text(480, 626, "?", 92, "#1b1206")


def wheelbarrow(d):
    d.ground(480, 905, 450)
    d.wheel(180, 760, 140, "cast", 8, .14)
    d.bar(180, 760, 940, 560, 34, "oak")
    d.path("M190 420 h560 l-110 270 h-330 Z", "green paint", "v", 3)
    d.path("M190 420 l80 -60 h560 l-80 60 Z", "green paint", "d", 3)
    d.path("M220 416 l60 -44 h510 l-56 44 Z", "black", "d")
    d.path("M750 420 l80 -60 l-120 280 l-70 50 Z", "green paint", "d", 3)
    d.bar(700, 640, 660, 890, 34, "oak")
    d.bar(600, 670, 560, 880, 30, "oak")
    d.bar(250, 770, 980, 600, 34, "oak")
    for i in range(9):
        apple(d, 330 + i * 50, 386 - (i % 3) * 15, 30)


def cart(d):
    d.ground(500, 905, 490)
    d.bar(760, 640, 1010, 740, 30, "oak")
    d.box(60, 520, 760, 60, "blue paint", 150)
    d.planks(60, 520, 760, 60, 1, "blue paint")
    for i in range(1, 12):
        d.stroke(f"M{60 + i * 64} 518 l116 -64", "#1d3a58", 4, .6)
    for x in (70, 440, 790):
        d.rect(x, 380, 34, 150, "blue paint", "h")
    d.bar(70, 396, 824, 396, 30, "blue paint")
    d.bar(60, 610, 820, 610, 30, "red paint")
    d.wheel(230, 720, 180, "red paint", 12, .1)
    d.wheel(680, 740, 160, "red paint", 12, .1)
    d.text(430, 562, "HALLOWBY ORCHARD", 38, "#f6e7b4", .95)


def hand_pump(d):
    d.ground(500, 905, 260)
    d.cylinder(500, 830, 330, 50, "stone")
    d.rect(440, 420, 120, 410, "green paint", "h")
    for y in (440, 600, 780):
        d.path(f"M424 {y} a76 18 0 0 0 152 0 v24 a76 18 0 0 1 -152 0 Z", "green paint", "h")
    d.cylinder(500, 270, 190, 170, "green paint")
    d.path("M405 270 a95 21 0 0 0 190 0 q-30 -90 -95 -90 q-65 0 -95 90 Z", "green paint", "h")
    d.disc(500, 160, 32, "brass")
    d.tube("M430 330 q-150 -6 -150 110", 54, "green paint")
    d.tube("M560 250 q170 -60 260 120 q50 140 20 330", 30, "iron")
    d.disc(840, 708, 30, "iron")
    d.cylinder(270, 740, 170, 150, "zinc", hole=True)
    d.add('<path d="M280 470 v250" stroke="#bfe2f2" stroke-width="16" stroke-opacity=".55"/>')


def iron_gate(d):
    d.ground(500, 905, 480, 40)
    for x in (60, 870):
        d.box(x, 210, 80, 690, "stone", 30)
        d.disc(x + 52, 180, 46, "stone")
    for x in range(170, 860, 46):
        top = 330 - 120 * math.sin(math.pi * (x - 150) / 710)
        d.bar(x, 860, x, top, 14, "black")
        d.poly([(x - 14, top), (x, top - 46), (x + 14, top)], "black")
    d.bar(150, 420, 860, 420, 20, "black")
    d.bar(150, 820, 860, 820, 20, "black")
    for x in (260, 420, 590, 750):
        d.tube(f"M{x - 50} 620 q0 -70 50 -70 q50 0 50 70 q0 70 -50 70 q-40 0 -40 -46", 11, "black")
    d.rect(480, 560, 60, 90, "brass", "v", 6)


def stone_roller(d):
    d.ground(480, 905, 470)
    d.drum(140, 690, 480, 205, "stone", .34)
    for k in range(70):
        x, y = 120 + d.random.random() * 500, 490 + d.random.random() * 400
        d.add(f'<circle cx="{x:.0f}" cy="{y:.0f}" r="{d.random.uniform(2, 7):.0f}" fill="#5a5347" fill-opacity=".45"/>')
    d.stains(150, 640, 480, 230, 8, "#5f7a3f", .5)
    d.tube("M100 690 v-160 h620 v160", 30, "iron")
    d.disc(624, 690, 36, "iron")
    d.bar(700, 530, 960, 260, 30, "iron")
    d.bar(900, 220, 1000, 300, 30, "oak")


# drawing: where a close view looks (x, y), what the rating plate reads, its material
THINGS = {
    "grading_table": (grading_table, (480, 520), ("HALLOWBY GRADER", "PATTERN B", "No 118"), "brass"),
    "crates": (crates, (400, 700), (), ""),
    "sack_barrow": (sack_barrow, (380, 800), (), ""),
    "platform_scale": (platform_scale, (700, 260), ("LUND SCALE WORKS", "MAX 500 KG", "No 30417"), "brass"),
    "nailing_bench": (nailing_bench, (500, 500), (), ""),
    "stencil_set": (stencil_set, (480, 480), (), ""),
    "roller_conveyor": (roller_conveyor, (300, 580), ("TRAVISH ROLLWAYS", "LOAD 60 KG/M", "1961"), "zinc"),
    "ladders": (ladders, (420, 400), (), ""),
    "picking_bags": (picking_bags, (430, 640), (), ""),
    "wicker_baskets": (wicker_baskets, (620, 640), (), ""),
    "chain_hoist": (chain_hoist, (500, 300), ("ORRINGE HOIST CO", "SAFE LOAD 1 TON", "No 8802"), "brass"),
    "trunk": (trunk, (500, 600), (), ""),
    "rolltop_desk": (rolltop_desk, (480, 420), (), ""),
    "safe": (safe, (460, 500), ("THORNE &amp; LUND", "FIRE RESISTING", "No 1904"), "brass"),
    "typewriter": (typewriter, (480, 570), ("CORVANE", "MODEL 7", "SERIAL 51-20337"), "zinc"),
    "wall_clock": (wall_clock, (500, 350), (), ""),
    "card_drawers": (card_drawers, (450, 450), (), ""),
    "screw_press": (screw_press, (500, 200), ("BRAMWICK FOUNDRY", "PRESS No 4", "SERIAL 2209"), "brass"),
    "scratter": (scratter, (520, 500), ("WINTERBYNE", "MILL PATTERN C", "1912"), "brass"),
    "copper_vat": (copper_vat, (440, 300), ("SKELLET COPPERWORKS", "90 GALLONS", "No 66"), "copper"),
    "stoneware_jars": (stoneware_jars, (400, 700), (), ""),
    "demijohns": (demijohns, (430, 600), (), ""),
    "corker": (corker, (500, 320), (), ""),
    "boiler": (boiler, (480, 480), ("KELSTOW BOILERS", "WP 3 BAR", "TESTED 1974"), "brass"),
    "belt_pump": (belt_pump, (600, 640), ("MERRODEW PUMP", "400 L/MIN", "No 2217"), "brass"),
    "compressor": (compressor, (420, 540), ("BOREAL COLD PLANT", "R717 - 12 KW", "No 4-0091"), "zinc"),
    "pallet_truck": (pallet_truck, (700, 640), ("GANTREY HANDLING", "CAP 2000 KG", "1988"), "zinc"),
    "dial_thermometer": (dial_thermometer, (500, 360), (), ""),
    "ripening_trays": (ripening_trays, (450, 560), (), ""),
    "barrels": (barrels, (500, 690), (), ""),
    "anvil": (anvil, (560, 420), (), ""),
    "shaving_horse": (shaving_horse, (430, 440), (), ""),
    "hoop_iron": (hoop_iron, (520, 520), (), ""),
    "stave_jointer": (stave_jointer, (500, 600), (), ""),
    "tool_rack": (tool_rack, (500, 380), (), ""),
    "grindstone": (grindstone, (500, 520), (), ""),
    "glass_panes": (glass_panes, (480, 500), (), ""),
    "staging_bench": (staging_bench, (480, 500), (), ""),
    "clay_pots": (clay_pots, (500, 640), (), ""),
    "watering_cans": (watering_cans, (420, 560), (), ""),
    "vent_winder": (vent_winder, (540, 640), ("VITRELLA HOUSES", "WINDER TYPE 2", "No 771"), "brass"),
    "tiller": (tiller, (340, 520), ("BURROW 6", "5.2 KW 3600/MIN", "No B6-10448"), "zinc"),
    "sprayer": (sprayer, (480, 520), ("CASTELOR SPRAYERS", "300 L", "No 0317"), "zinc"),
    "stationary_engine": (stationary_engine, (560, 620), ("DRUMMOCH", "5 HP 650 RPM", "No 19977"), "brass"),
    "bench_vice": (bench_vice, (440, 420), (), ""),
    "fuel_drum": (fuel_drum, (480, 560), (), ""),
    "wheelbarrow": (wheelbarrow, (440, 560), (), ""),
    "cart": (cart, (430, 560), (), ""),
    "hand_pump": (hand_pump, (500, 340), ("LARKSTILE", "LIFT 7 M", "No 5"), "brass"),
    "iron_gate": (iron_gate, (510, 560), (), ""),
    "stone_roller": (stone_roller, (400, 680), (), ""),
}

# SPDX-License-Identifier: GPL-3.0-or-later
"""The places of the demo property as backgrounds: a wall, a floor and the light that falls in.

Each room is drawn on 2000 x 1500 units; the wall meets the floor at FLOOR.
"""

from .draw import Drawing, mix

WIDE, HIGH, FLOOR = 2000, 1500, 930


def flat(d, x, y, w, h, top, bottom, name):
    d.gradients[name] = (f'<linearGradient id="{name}" x2="0" y2="1"><stop offset="0" stop-color="{top}"/>'
                         f'<stop offset="1" stop-color="{bottom}"/></linearGradient>')
    d.add(f'<rect x="{x}" y="{y}" width="{w}" height="{h}" fill="url(#{name})"/>')


def patch(d, points, colour, opacity=1):
    d.add('<path d="M' + " L".join(f"{x:.0f} {y:.0f}" for x, y in points) +
          f' Z" fill="{colour}" fill-opacity="{opacity}"/>')


def floor_rows(y0=FLOOR, first=34, growth=1.35):
    """The rows of a floor seen in perspective: deeper ones are lower."""
    rows, y, step = [], y0, first
    while y < HIGH:
        rows.append((y, min(y + step, HIGH + 40)))
        y, step = y + step, step * growth
    return rows


def fan(x, y):
    """Where a floor line that starts at x on the wall has got to at height y."""
    return WIDE / 2 + (x - WIDE / 2) * (1 + (y - FLOOR) / (HIGH - FLOOR) * 1.5)


def board_floor(d, light, dark, boards=26):
    flat(d, 0, FLOOR, WIDE, HIGH - FLOOR, mix(light, dark, .6), light, "boards")
    for i in range(-12, boards + 12):
        a, b = i * WIDE / boards, (i + 1) * WIDE / boards
        tone = d.random.uniform(-.13, .13)
        patch(d, [(a, FLOOR), (b, FLOOR), (fan(b, HIGH), HIGH), (fan(a, HIGH), HIGH)],
              "#ffffff" if tone > 0 else "#000000", abs(tone))
        d.stroke(f"M{a:.0f} {FLOOR} L{fan(a, HIGH):.0f} {HIGH}", dark, 3, .7)
        t = d.random.uniform(.15, .9)
        y = FLOOR + (HIGH - FLOOR) * t
        d.stroke(f"M{fan(a, y):.0f} {y:.0f} L{fan(b, y):.0f} {y:.0f}", dark, 3, .7)


def rough_floor(d, light, dark, specks, speck_colours, joints=False):
    flat(d, 0, FLOOR, WIDE, HIGH - FLOOR, mix(light, dark, .7), light, "floor")
    d.stains(0, FLOOR, WIDE, HIGH - FLOOR, 26, dark, .5)
    if joints:
        for row, (a, b) in enumerate(floor_rows(first=46, growth=1.42)):
            d.stroke(f"M0 {a:.0f} H{WIDE}", dark, 4, .7)
            for i in range(-6, 18):
                x = (i + (row % 2) / 2) * 170
                tone = d.random.uniform(-.12, .12)
                patch(d, [(fan(x, a), a), (fan(x + 170, a), a), (fan(x + 170, b), b), (fan(x, b), b)],
                      "#ffffff" if tone > 0 else "#000000", abs(tone))
                d.stroke(f"M{fan(x, a):.0f} {a:.0f} L{fan(x, b):.0f} {b:.0f}", dark, 4, .6)
    r = d.random
    for _ in range(specks):
        t = r.random() ** .6
        y = FLOOR + (HIGH - FLOOR) * t
        size = 2 + 8 * t * r.random()
        d.add(f'<ellipse cx="{r.random() * WIDE:.0f}" cy="{y:.0f}" rx="{size:.1f}" ry="{size * .5:.1f}" '
              f'fill="{r.choice(speck_colours)}" fill-opacity="{r.uniform(.25, .8):.2f}"/>')


def window(d, x, y, w, h, frame, cols=2, rows=3, sky=("#eaf4fb", "#b9d3e4"), dirt=True):
    d.add(f'<rect x="{x - 22}" y="{y - 22}" width="{w + 44}" height="{h + 44}" fill="{mix(frame, "#000000", .45)}"/>')
    d.add(f'<rect x="{x - 16}" y="{y - 16}" width="{w + 32}" height="{h + 32}" fill="{frame}"/>')
    flat(d, x, y, w, h, sky[0], sky[1], f"sky{x:.0f}")
    d.stains(x, y + h * .5, w, h * .5, 5, "#6f8f55", .45)
    if dirt:
        d.stains(x, y, w, h, 6, "#8d8263", .3)
    for i in range(1, cols):
        d.add(f'<rect x="{x + w * i / cols - 6}" y="{y}" width="12" height="{h}" fill="{frame}"/>')
    for i in range(1, rows):
        d.add(f'<rect x="{x}" y="{y + h * i / rows - 6}" width="{w}" height="12" fill="{frame}"/>')
    d.add(f'<rect x="{x - 34}" y="{y + h + 14}" width="{w + 68}" height="24" fill="{mix(frame, "#ffffff", .2)}" '
          'stroke="#000" stroke-opacity=".3"/>')


def shaft(d, x, y, w, reach, opacity=.16, lean=260):
    """Light from a window at the top, falling to the floor."""
    d.gradients["shaft"] = ('<linearGradient id="shaft" x2="0" y2="1"><stop offset="0" stop-color="#fff7d8" '
                            'stop-opacity="1"/><stop offset="1" stop-color="#fff7d8" stop-opacity="0"/></linearGradient>')
    d.add(f'<path d="M{x} {y} h{w} l{lean + 120} {reach} h{-w - 220} Z" fill="url(#shaft)" opacity="{opacity}"/>')
    d.gradients["pool"] = ('<radialGradient id="pool"><stop offset="0" stop-color="#fff3c4" stop-opacity="1"/><stop '
                           'offset=".6" stop-color="#fff3c4" stop-opacity=".6"/><stop offset="1" stop-color="#fff3c4" '
                           'stop-opacity="0"/></radialGradient>')
    d.add(f'<ellipse cx="{x + w / 2 + lean}" cy="{y + reach}" rx="{w * 1.3}" ry="130" fill="url(#pool)" '
          f'opacity="{opacity * 1.4}"/>')


def dim(d, colour="#0a0704", strength=.72):
    """Corners fall into the dark."""
    d.gradients["dim"] = (f'<radialGradient id="dim" cx=".5" cy=".52" r=".72"><stop offset=".45" stop-color="{colour}" '
                          f'stop-opacity="0"/><stop offset="1" stop-color="{colour}" stop-opacity="{strength}"/>'
                          '</radialGradient>')
    d.add(f'<rect width="{WIDE}" height="{HIGH}" fill="url(#dim)"/>')
    d.gradients["edge"] = ('<linearGradient id="edge" x2="0" y2="1"><stop offset="0" stop-color="#000" stop-opacity="0"/>'
                           '<stop offset=".5" stop-color="#000" stop-opacity=".38"/><stop offset="1" stop-color="#000" '
                           'stop-opacity="0"/></linearGradient>')
    d.add(f'<rect y="{FLOOR - 70}" width="{WIDE}" height="150" fill="url(#edge)"/>')


def packing_shed(d):
    d.planks(0, -10, WIDE, FLOOR + 10, 22, "grey wood", True, 4)
    for y in (120, 760):
        d.rect(0, y, WIDE, 46, "grey wood")
        d.grain(0, y, WIDE, 46, "#3c352c", lines=9)
    window(d, 220, 230, 380, 360, "#8b8474", 3, 3)
    window(d, 1420, 230, 380, 360, "#8b8474", 3, 3)
    for x in (760, 1240):
        d.rect(x, -10, 54, FLOOR + 10, "pine", "h")
    rough_floor(d, "#b4aea3", "#5c564d", 260, ["#6d665a", "#d8d2c4", "#8f7c56"])
    d.stroke(f"M300 {FLOOR + 40} l120 130 l-60 90 l180 190 l-40 150", "#3a352e", 4, .6)
    shaft(d, 230, 240, 360, 860, .2)
    dim(d)


def loft(d):
    d.planks(0, -10, WIDE, FLOOR + 10, 16, "pine", False, 5)
    d.add(f'<rect width="{WIDE}" height="{FLOOR}" fill="#2a1805" fill-opacity=".42"/>')
    window(d, 860, 260, 280, 330, "#6b4a2a", 2, 2, ("#fff6df", "#e8cfa0"))
    for x in (-60, 520, 1430, 2010):
        lean = (1000 - x) * .42
        d.poly([(x - 30, FLOOR), (x + 34, FLOOR), (x + lean + 34, -20), (x + lean - 30, -20)], "dark wood", "h")
    d.poly([(-20, 560), (1000, -160), (1000, -60), (-20, 660)], "dark wood")
    d.poly([(2020, 560), (1000, -160), (1000, -60), (2020, 660)], "dark wood")
    d.rect(0, 640, WIDE, 50, "dark wood")
    board_floor(d, "#b58a55", "#4a3216")
    shaft(d, 860, 270, 280, 850, .3, -60)
    dim(d, "#120a02", .85)


def stone_wall(d, light, dark, rows=11):
    flat(d, 0, 0, WIDE, FLOOR, mix(dark, "#000000", .2), mix(dark, "#000000", .35), "mortar")
    r = d.random
    y = 0
    for _ in range(rows):
        h = FLOOR / rows
        x = -r.random() * 120
        while x < WIDE:
            w = r.uniform(90, 260)
            tone = mix(light, dark, r.uniform(.05, .75))
            d.add(f'<rect x="{x + 5:.0f}" y="{y + 5:.0f}" width="{w - 10:.0f}" height="{h - 10:.0f}" rx="{r.uniform(10, 24):.0f}" '
                  f'fill="{tone}"/>')
            d.add(f'<path d="M{x + 12:.0f} {y + 12:.0f} h{w - 28:.0f}" stroke="#fff" stroke-opacity=".22" stroke-width="5" '
                  'stroke-linecap="round"/>')
            d.add(f'<path d="M{x + 14:.0f} {y + h - 11:.0f} h{w - 28:.0f}" stroke="#000" stroke-opacity=".3" '
                  'stroke-width="6" stroke-linecap="round"/>')
            x += w
        y += h
    d.stains(0, 0, WIDE, FLOOR, 24, "#4a4a36", .4)


def press_house(d):
    stone_wall(d, "#c9bda6", "#756a57")
    window(d, 300, 200, 330, 380, "#4d4636", 2, 3)
    d.rect(0, 60, WIDE, 66, "dark wood")
    d.grain(0, 60, WIDE, 66, "#1a0d04", lines=10)
    d.path(f"M1420 {FLOOR} V430 q0 -190 190 -190 q190 0 190 190 V{FLOOR} Z", "dark wood", "d", 8)
    for i in range(1, 6):
        d.stroke(f"M{1420 + i * 63} 300 V{FLOOR}", "#120903", 4, .7)
    d.bar(1440, 470, 1640, 470, 22, "iron")
    d.bar(1440, 760, 1640, 760, 22, "iron")
    rough_floor(d, "#a49a88", "#4a4234", 120, ["#5f5544", "#c9bda6"], True)
    shaft(d, 310, 210, 310, 900, .22)
    dim(d)


def cold_store(d):
    flat(d, 0, 0, WIDE, FLOOR, "#e9eff1", "#b7c3c8", "panel")
    for i in range(9):
        x = i * 250 - 120
        d.stroke(f"M{x} 0 V{FLOOR}", "#7e8d93", 5, .7)
        d.stroke(f"M{x + 6} 0 V{FLOOR}", "#ffffff", 4, .8)
        for y in range(60, FLOOR, 120):
            d.disc(x - 22, y, 6, "steel", "r", 1)
            d.disc(x + 28, y, 6, "steel", "r", 1)
    d.rect(1330, 170, 460, FLOOR - 170, "white", "v", 10, 6)
    d.rect(1370, 215, 380, FLOOR - 265, "zinc", "v", 6, 3)
    for y in (300, 560, 800):
        d.rect(1742, y, 90, 44, "steel", "l", 8)
    d.bar(1352, 560, 1352, 680, 26, "steel")
    for x in range(80, 1240, 36):
        d.tube(f"M{x} 92 V176", 13, "zinc")
    d.bar(60, 92, 1250, 92, 17, "zinc")
    d.bar(60, 176, 1250, 176, 17, "zinc")
    d.stains(0, 500, WIDE, 430, 14, "#7d8f7d", .35)
    rough_floor(d, "#98a3a6", "#4d585c", 90, ["#c9d4d8", "#55626a"])
    d.add(f'<ellipse cx="700" cy="{FLOOR + 330}" rx="420" ry="60" fill="#e4f1f6" fill-opacity=".3"/>')
    d.add(f'<ellipse cx="640" cy="{FLOOR + 322}" rx="250" ry="30" fill="#ffffff" fill-opacity=".3"/>')
    dim(d, "#101a1f", .5)


def cooperage(d):
    flat(d, 0, 0, WIDE, FLOOR, "#6d6157", "#50463e", "mortar")
    r = d.random
    for row in range(22):
        for i in range(-1, 18):
            x, y = i * 120 + (row % 2) * 60, row * 43
            tone = mix("#b4694a", "#6e3523", r.random())
            d.add(f'<rect x="{x + 3}" y="{y + 3}" width="114" height="37" rx="4" fill="{tone}"/>'
                  f'<path d="M{x + 6} {y + 6} h106" stroke="#ffd9b8" stroke-opacity=".22" stroke-width="3"/>')
    d.stains(0, 0, WIDE, FLOOR, 20, "#1d1510", .5)
    window(d, 1380, 210, 360, 340, "#3d4a46", 4, 3)
    d.rect(130, 300, 760, 40, "dark wood")
    for i, x in enumerate(range(180, 860, 85)):
        d.bar(x, 330, x, 470 + (i % 3) * 26, 12, "iron")
        if i % 2:
            d.tube(f"M{x} {470 + (i % 3) * 26} m-44 0 a44 44 0 0 0 88 0", 9, "iron")
        else:
            d.rect(x - 26, 450 + (i % 3) * 26, 52, 64, "steel", "h", 4)
    rough_floor(d, "#a08560", "#463422", 60, ["#2c2013"])
    for _ in range(170):
        x, t = r.random() * WIDE, r.random() ** .5
        y, s = FLOOR + (HIGH - FLOOR) * t, 8 + 26 * t
        d.stroke(f"M{x:.0f} {y:.0f} q{s:.0f} {-s * .7:.0f} {s * 1.3:.0f} 0", r.choice(["#e9c992", "#d6ad6c", "#f3dcb0"]),
                 3 + 3 * t, .85)
    shaft(d, 1390, 220, 340, 840, .24, -420)
    dim(d, "#120804", .78)


def glasshouse(d):
    flat(d, 0, 0, WIDE, FLOOR, "#d9ecf7", "#cfe3c2", "outside")
    r = d.random
    for _ in range(70):
        x, y, s = r.random() * WIDE, r.uniform(430, FLOOR), r.uniform(60, 170)
        d.add(f'<ellipse cx="{x:.0f}" cy="{y:.0f}" rx="{s:.0f}" ry="{s * .7:.0f}" '
              f'fill="{r.choice(["#7fae5c", "#5d9147", "#94bf6d", "#45793a"])}" fill-opacity=".4"/>')
    d.add(f'<rect width="{WIDE}" height="{FLOOR}" fill="#ffffff" fill-opacity=".28"/>')
    for i in range(9):
        for j in range(4):
            x, y = i * 250, j * 210 - 30
            if r.random() < .45:
                patch(d, [(x + 40, y + 200), (x + 120, y + 10), (x + 170, y + 10), (x + 90, y + 200)], "#ffffff", .35)
    for i in range(10):
        d.bar(i * 250 - 20, -20, i * 250 - 20, 815, 20, "white")
    for y in (180, 390, 600):
        d.bar(0, y, WIDE, y, 9, "white")
    d.rect(0, 806, WIDE, FLOOR - 806, "stone")
    for row in range(3):
        for i in range(-1, 16):
            x = i * 140 + (row % 2) * 70
            d.rect(x, 806 + row * 42, 136, 38, "clay" if r.random() < .8 else "stone", "v", 4, 1)
    for i in range(14):
        x = r.random() * WIDE
        for k in range(6):
            lean = r.uniform(-70, 70)
            d.stroke(f"M{x:.0f} {FLOOR} q{lean * .3:.0f} -90 {lean:.0f} {-r.uniform(90, 200):.0f}",
                     r.choice(["#5b8f3f", "#3f7034", "#83b456"]), 7, .85)
    rough_floor(d, "#cfc6ae", "#8a7f66", 900, ["#efe8d6", "#8d8470", "#b7ab90", "#6f6754"])
    shaft(d, 700, 0, 500, 1150, .3, 200)
    dim(d, "#14240f", .35)


def machine_shed(d):
    flat(d, 0, 0, WIDE, FLOOR, "#a7adab", "#7a807e", "sheet")
    for i in range(72):
        x = i * 28
        d.add(f'<rect x="{x}" y="0" width="12" height="{FLOOR}" fill="#ffffff" fill-opacity=".22"/>'
              f'<rect x="{x + 15}" y="0" width="9" height="{FLOOR}" fill="#000000" fill-opacity=".24"/>')
    d.stains(0, 0, WIDE, FLOOR, 34, "#9b4a1c", .62)
    d.stains(0, 620, WIDE, 300, 22, "#7d3812", .7)
    for x in (60, 980, 1890):
        d.rect(x, -10, 66, FLOOR + 10, "grey wood", "h")
    d.rect(0, 250, WIDE, 54, "grey wood")
    d.grain(0, 250, WIDE, 54, "#3a332a", lines=12)
    for x in (220, 340, 430, 1180, 1290):
        d.bar(x, 270, x, 300, 8, "iron")
    d.tube("M220 300 q-70 120 0 200 q70 -80 0 -200", 15, "rubber")
    d.tube("M1180 300 v150 q0 50 50 50", 12, "rust")
    d.tube("M1290 300 q-60 100 0 170 q60 -70 0 -170", 10, "canvas")
    window(d, 1420, 370, 300, 260, "#5c554a", 2, 2)
    rough_floor(d, "#9b8363", "#463722", 340, ["#5a4830", "#c3ab86", "#38291a"])
    d.gradients["oil"] = ('<radialGradient id="oil"><stop offset="0" stop-color="#0d0a06" stop-opacity=".7"/><stop '
                          'offset=".55" stop-color="#0d0a06" stop-opacity=".5"/><stop offset="1" stop-color="#0d0a06" '
                          'stop-opacity="0"/></radialGradient>')
    d.add(f'<ellipse cx="620" cy="{FLOOR + 290}" rx="390" ry="92" fill="url(#oil)"/>')
    shaft(d, 1430, 380, 280, 760, .24, -340)
    dim(d, "#0d0804", .8)


def orchard_yard(d):
    flat(d, 0, 0, WIDE, FLOOR, "#8fc0e8", "#e8f2ee", "sky")
    r = d.random
    for x, y, s in ((300, 170, 150), (900, 110, 190), (1500, 210, 160)):
        for k in range(5):
            d.add(f'<ellipse cx="{x + (k - 2) * s * .55:.0f}" cy="{y + abs(k - 2) * 18}" rx="{s * .55:.0f}" ry="{s * .28:.0f}" '
                  'fill="#ffffff" fill-opacity=".75"/>')
    d.add(f'<path d="M0 620 q300 -170 640 -50 q260 -190 620 -30 q340 -130 740 70 V{FLOOR} H0 Z" fill="#7fa08a"/>')
    d.add(f'<path d="M0 720 q420 -110 900 -20 q500 -100 1100 20 V{FLOOR} H0 Z" fill="#6f9a5b"/>')
    for x, y, s in ((120, 860, 1.0), (480, 820, .72), (760, 800, .6), (1290, 810, .64), (1560, 830, .8), (1880, 866, 1.05)):
        d.bar(x, y + 20, x + 8, y - 150 * s, 34 * s, "dark wood")
        for _ in range(34):
            a, b = r.gauss(0, 110) * s, r.gauss(0, 80) * s
            d.add(f'<ellipse cx="{x + a:.0f}" cy="{y - 250 * s + b:.0f}" rx="{52 * s:.0f}" ry="{42 * s:.0f}" '
                  f'fill="{r.choice(["#4f7d35", "#6a9a45", "#3b6529", "#82b055"])}" fill-opacity=".9"/>')
        for _ in range(16):
            a, b = r.gauss(0, 110) * s, r.gauss(0, 80) * s
            d.add(f'<circle cx="{x + a:.0f}" cy="{y - 240 * s + b:.0f}" r="{11 * s:.0f}" fill="#c7402f"/>')
    rough_floor(d, "#b9a67e", "#77804a", 620, ["#e0d3b1", "#8a7a58", "#5f6d3a", "#a39068"])
    for _ in range(240):
        x, t = r.random() * WIDE, r.random() ** 1.6 * .75
        y, s = FLOOR + 12 + (HIGH - FLOOR) * t, 14 + 40 * t
        d.stroke(f"M{x:.0f} {y:.0f} q{r.uniform(-8, 8):.0f} {-s * .6:.0f} {r.uniform(-14, 14):.0f} {-s:.0f}",
                 r.choice(["#5f8a3a", "#7fa651", "#46702c"]), 3, .8)
    dim(d, "#1c2a12", .3)


def office(d):
    flat(d, 0, 0, WIDE, FLOOR, "#d8cdae", "#bfae86", "paper")
    for i in range(26):
        x = i * 80
        d.add(f'<rect x="{x}" y="0" width="34" height="{FLOOR}" fill="#9fae86" fill-opacity=".28"/>')
        for j in range(8):
            y = j * 96 + (i % 2) * 48
            d.add(f'<path d="M{x + 17} {y} q15 22 0 40 q-15 -18 0 -40" fill="#6f8a58" fill-opacity=".5"/>')
    d.rect(0, 610, WIDE, 34, "dark wood", "l")
    d.add(f'<rect y="630" width="{WIDE}" height="{FLOOR - 630}" fill="#1c0d04"/>')
    d.planks(0, 644, WIDE, FLOOR - 644, 20, "dark wood", True, 5, False)
    d.rect(0, FLOOR - 60, WIDE, 60, "dark wood", "l")
    window(d, 1420, 120, 350, 400, "#efe8d4", 2, 3)
    d.path("M1370 70 q60 260 -20 520 h80 q-20 -300 30 -520 Z", "red paint", "h")
    d.path("M1820 70 q-60 260 20 520 h-80 q20 -300 -30 -520 Z", "red paint", "h")
    d.bar(1350, 76, 1840, 76, 20, "brass")
    d.rect(250, 150, 360, 260, "dark wood", "v", 4, 3)
    d.rect(276, 176, 308, 208, "paper", "v", 0, 1)
    d.add('<path d="M276 330 q80 -70 150 -20 q70 -80 158 0 v74 h-308 Z" fill="#7c9a63"/>'
          '<circle cx="510" cy="230" r="26" fill="#e8c469"/><path d="M370 340 v-60 l40 -30 l40 30 v60 Z" fill="#a5583c"/>')
    board_floor(d, "#94622f", "#3d230d", 22)
    d.add(f'<path d="M420 {FLOOR + 130} H1580 L1800 {HIGH - 60} H200 Z" fill="#7a2e2a"/>'
          f'<path d="M470 {FLOOR + 155} H1530 L1715 {HIGH - 95} H285 Z" fill="none" stroke="#d9b36a" stroke-width="12"/>'
          f'<path d="M560 {FLOOR + 200} H1440 L1570 {HIGH - 150} H430 Z" fill="#8f3d33"/>')
    shaft(d, 1430, 130, 330, 960, .2, -420)
    dim(d, "#150a03", .62)


ROOMS = {
    "Packing shed": packing_shed,
    "Packing shed > Loft": loft,
    "Press house": press_house,
    "Cold store": cold_store,
    "Cooperage": cooperage,
    "Glasshouse": glasshouse,
    "Machine shed": machine_shed,
    "Orchard yard": orchard_yard,
    "Office": office,
}


def room(name):
    """The background of a place as a Drawing."""
    d = Drawing("room " + name)
    ROOMS[name](d)
    return d

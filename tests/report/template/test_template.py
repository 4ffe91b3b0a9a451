"""The template, read back from its files: places to 0.01 mm, wraps that close, pages that do not scale."""

import itertools
import warnings
from collections import Counter
from io import BytesIO
from math import atan2, dist, pi, tau
from pathlib import Path
from xml.etree import ElementTree

import pytest
from pages.make_pages import designs
from pages.words import ASCENT, DESCENT, words_of

import burnsim
from burnsim import cli
from burnsim.errors import InputError
from burnsim.model.description.setup import Setup
from burnsim.plots.letters import text_width
from burnsim.report.paper import PAPERS, REGULAR, register_fonts
from burnsim.report.template import save_template, template_pieces
from burnsim.report.template.drawing import Circle, Label, Line, Piece
from burnsim.report.template.notes import notes
from burnsim.report.template.pages import FOOTER, JOIN, MARGIN, Sheet, paginate
from burnsim.report.template.pdf import window
from burnsim.report.template.pieces import ASIDE, TAB
from burnsim.units import plain
from burnsim.units.drills import drill_advice, inches, metric_drill, number_drill

ezdxf = pytest.importorskip("ezdxf")
pypdf = pytest.importorskip("pypdf")

EXAMPLES = [
    path
    for path in sorted((Path(__file__).parents[3] / "examples").glob("*.toml"))
    if "[burner]" in path.read_text(encoding="utf-8")  # designs only
]
SVG = "{http://www.w3.org/2000/svg}"
EXACT = 0.01  # [mm]
WIDE = {"burner.outer_diameter": "160 mm", "pot.diameter": "24 cm"}

Dot = tuple[float, float, float]


def weekend(**changes: object) -> Setup:
    setup = burnsim.load(Path(__file__).parents[3] / "examples" / "weekend_double_wall.toml")
    return burnsim.vary(setup, {name.replace("__", "."): value for name, value in changes.items()})


def from_svg(path: Path, name: str) -> tuple[list[Dot], list[tuple[float, float]]]:
    """Drilled circles of a piece as (x, y up from its foot, diameter), and the corners of its outline."""
    root = ElementTree.parse(path).getroot()
    assert root.attrib["width"].removesuffix("mm") == root.attrib["viewBox"].split()[2]  # one unit is one millimetre
    group = next(g for g in root.iter(f"{SVG}g") if g.get("id") == name)
    outline = next((g for g in group.iter(f"{SVG}polygon") if g.get("class") == "cut"), None)
    corners = (
        [tuple(map(float, pair.split(","))) for pair in outline.attrib["points"].split()] if outline is not None else []
    )
    left = min((x for x, _ in corners), default=0.0)
    foot = max((y for _, y in corners), default=0.0)
    circles = [c for c in group.iter(f"{SVG}circle") if c.get("class") == "drill"]
    dots = [(float(c.attrib["cx"]) - left, foot - float(c.attrib["cy"]), 2.0 * float(c.attrib["r"])) for c in circles]
    return dots, [(x - left, foot - y) for x, y in corners]


def from_dxf(path: Path) -> list[Dot]:
    drawing = ezdxf.readfile(path)
    assert drawing.units == 4  # millimetres
    return [
        (e.dxf.center.x, e.dxf.center.y, 2.0 * e.dxf.radius)
        for e in drawing.modelspace().query('CIRCLE[layer=="DRILL"]')
    ]


@pytest.mark.parametrize(("count", "rows"), [(26, 1), (24, 2), (1, 1), (30, 3)])
def test_side_jets_read_back_from_svg(tmp_path: Path, count: int, rows: int) -> None:
    setup = weekend(burner__jets__count=count, burner__jets__rows=rows, burner__jets__height="36 mm")
    save_template(setup, tmp_path / "t.svg")
    dots, corners = from_svg(tmp_path / "t.svg", "outer-wall")
    around = pi * 62.0
    assert max(x for x, _ in corners) == pytest.approx(around + TAB, abs=EXACT)
    assert max(y for _, y in corners) == pytest.approx(45.0 + 0.1, abs=EXACT)  # floor to rim, and the floor
    assert len(dots) == count
    for row in range(rows):
        height = 36.0 + 0.1 + row * 2.0 * 1.0  # rows lie two diameters apart
        xs = sorted(x for x, y, _ in dots if abs(y - height) < EXACT)
        assert len(xs) == count // rows
        steps = [b - a for a, b in itertools.pairwise(xs)]
        steps.append(xs[0] + around - xs[-1])  # across the seam: the wrap closes
        assert steps == pytest.approx([around * rows / count] * len(xs), abs=EXACT)
    assert {round(d, 3) for _, _, d in dots} == {1.0}
    assert all(0.5 < x < around - 0.5 for x, _, _ in dots)  # no hole on the seam


def test_dxf_has_the_same_holes_as_svg(tmp_path: Path) -> None:
    setup = weekend()
    save_template(setup, tmp_path / "t.svg")
    save_template(setup, tmp_path / "t.dxf")
    drawn, _ = from_svg(tmp_path / "t.svg", "outer-wall")
    read = from_dxf(tmp_path / "t.dxf")
    foot = min(y for _, y, _ in read) - min(y for _, y, _ in drawn)
    assert sorted((x, y - foot, d) for x, y, d in read) == [pytest.approx(dot, abs=EXACT) for dot in sorted(drawn)]
    outline = ezdxf.readfile(tmp_path / "t.dxf").modelspace().query('LWPOLYLINE[layer=="CUT"]')
    widths = [max(p[0] for p in line) - min(p[0] for p in line) for line in outline if line.closed]
    assert any(abs(width - (pi * 62.0 + TAB)) < EXACT for width in widths)
    inner = pi * (62.0 - 2 * 0.1 - 2 * 4.5)
    assert any(abs(width - (inner + TAB)) < EXACT for width in widths)


def test_feed_slots_stand_on_the_floor_and_close_round_the_inner_wall() -> None:
    piece = named(template_pieces(weekend()), "inner-wall")
    slots = [item.points for item in piece.items if hasattr(item, "points") and item.layer == "cut" and not item.closed]
    slots = [points for points in slots if points[0][1] == 0.0]
    assert len(slots) == 4
    around = pi * 52.8
    middles = sorted((points[0][0] + points[-1][0]) / 2.0 for points in slots)
    steps = [b - a for a, b in itertools.pairwise(middles)] + [middles[0] + around - middles[-1]]
    assert steps == pytest.approx([around / 4.0] * 4, abs=EXACT)
    assert all(
        points[-1][0] - points[0][0] == pytest.approx(4.0) and points[1][1] == pytest.approx(2.0) for points in slots
    )


def named(pieces: tuple[Piece, ...], name: str) -> Piece:
    return next(piece for piece in pieces if piece.name == name)


def test_notches_stand_at_the_same_angle_in_both_walls() -> None:
    setup = weekend(**{"burner.relief": {"count": 3, "width": "3 mm", "depth": "1.5 mm"}})
    for name, around, top in (("outer-wall", pi * 62.0, 45.1), ("inner-wall", pi * 52.8, 45.0)):
        piece = named(template_pieces(setup), name)
        cut = [
            item.points for item in piece.items if hasattr(item, "points") and item.layer == "cut" and not item.closed
        ]
        notches = [points for points in cut if points[0][1] == pytest.approx(top)]
        angles = sorted((points[0][0] + points[-1][0]) / 2.0 / around for points in notches)
        assert angles == pytest.approx([1.0 / 6.0, 0.5, 5.0 / 6.0])
        assert all(points[1][1] == pytest.approx(top - 1.5) for points in notches)


def test_top_jets_lie_on_their_ring(tmp_path: Path) -> None:
    setup = burnsim.load(next(path for path in EXAMPLES if "sealed" in path.stem))
    save_template(setup, tmp_path / "t.svg")
    dots, _ = from_svg(tmp_path / "t.svg", "lid")
    assert len(dots) == 16
    centre = (sum(x for x, _, _ in dots) / 16.0, sum(y for _, y, _ in dots) / 16.0)
    assert [dist(centre, (x, y)) for x, y, _ in dots] == pytest.approx([25.0] * 16, abs=EXACT)
    angles = sorted(atan2(y - centre[1], x - centre[0]) % tau for x, y, _ in dots)
    steps = [b - a for a, b in itertools.pairwise(angles)] + [angles[0] + tau - angles[-1]]
    assert steps == pytest.approx([tau / 16.0] * 16, abs=EXACT / 25.0)


def test_paper_has_a_thickness() -> None:
    thick = named(template_pieces(weekend(), 0.2e-3), "outer-wall")
    thin = named(template_pieces(weekend()), "outer-wall")
    assert thick.width - thin.width == pytest.approx(pi * 0.2)
    with pytest.raises(InputError, match="paper"):
        template_pieces(weekend(), 2e-3)


@pytest.mark.parametrize("design", EXAMPLES, ids=lambda path: path.stem)
@pytest.mark.parametrize(("paper", "size"), [("a4", (297.0, 210.0)), ("letter", (279.4, 215.9))])
def test_pdf_of_every_example(tmp_path: Path, design: Path, paper: str, size: tuple[float, float]) -> None:
    setup = burnsim.load(design)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        save_template(setup, tmp_path / "t.pdf", paper=paper)
        save_template(setup, tmp_path / "t.svg")
        save_template(setup, tmp_path / "t.dxf")
    reader = pypdf.PdfReader(BytesIO((tmp_path / "t.pdf").read_bytes()))
    assert reader.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"
    text = ""
    for page in reader.pages:
        box = page.mediabox
        assert (float(box.width) / 72 * 25.4, float(box.height) / 72 * 25.4) == pytest.approx(size, abs=0.01)
        text += page.extract_text()
        assert "100 mm" in plain(page.extract_text())
    assert setup.name in plain(text)
    assert "Outer wall" in text
    if setup.burner.jets is not None:
        assert f"{setup.burner.jets.count} {setup.burner.jets.direction} jets" in text


def test_pdf_bar_is_true_to_scale(tmp_path: Path) -> None:
    """The bar at the foot of the page, in the numbers of the page's own drawing orders."""
    save_template(weekend(), tmp_path / "t.pdf")
    orders = pypdf.PdfReader(tmp_path / "t.pdf").pages[0].get_contents().get_data().decode("latin-1")
    tokens = orders.split()
    runs = [
        abs(float(tokens[k + 3]) - float(tokens[k]))
        for k in range(len(tokens) - 5)
        if tokens[k + 2] == "m" and tokens[k + 5] == "l"
    ]
    assert any(abs(run / 72.0 * 25.4 - 100.0) < EXACT for run in runs)


def test_long_strips_are_tiled_without_a_gap() -> None:
    pieces = [piece for piece in template_pieces(weekend(**WIDE)) if piece.name != "scale"]
    sheet = Sheet("US Letter", 279.4, 215.9)
    tiles = paginate(pieces, sheet, 60.0)
    parts = Counter(tile.piece.name for tile in tiles)
    assert parts["outer-wall"] == 3
    for piece in pieces:
        own = [tile for tile in tiles if tile.piece.name == piece.name]
        assert own[0].x == 0.0
        assert own[-1].x + own[-1].width == pytest.approx(piece.width)
        for one, other in itertools.pairwise(own):
            assert one.x + one.width - other.x == pytest.approx(JOIN)
    for tile in tiles:
        assert tile.left >= MARGIN
        assert tile.left + tile.width <= sheet.width - MARGIN + 1e-9
        assert tile.bottom >= MARGIN + FOOTER - 1e-9
        assert tile.bottom + tile.height <= sheet.height - MARGIN
    for page in {tile.page for tile in tiles}:
        here = [
            (one.left, one.bottom, one.left + one.width, one.bottom + one.height) for one in tiles if one.page == page
        ]
        assert not [1 for one, other in itertools.combinations(here, 2) if overlap(one, other)]


@pytest.mark.parametrize(("paper", "wide"), [("a4", "100 mm"), ("letter", "160 mm")])
def test_no_height_is_cut_off_where_notched_strips_are_tiled(paper: str, wide: str) -> None:
    """Letters reach 0.75 em above their line, 0.25 em below it."""
    metrics = pytest.importorskip("reportlab.pdfbase.pdfmetrics")
    register_fonts()
    notches = {"count": 3, "width": "3 mm", "depth": "1.5 mm"}
    setup = weekend(**{"burner.outer_diameter": wide, "pot.diameter": "24 cm", "burner.relief": notches})
    size = PAPERS[paper]
    pieces = [piece for piece in template_pieces(setup) if piece.name.endswith("wall")]
    tiles = paginate(pieces, Sheet(size.name, size.height, size.width), 60.0)
    for piece in pieces:
        own = [tile for tile in tiles if tile.piece is piece]
        assert len(own) > 1
        labels = [item for item in piece.items if isinstance(item, Label) and not item.turn]
        texts = [label.text for label in labels]
        assert any(text.endswith("cut the wall to") for text in texts)
        assert any(text.endswith("foot of notches") for text in texts)  # both walls tell how deep to cut
        for label in labels:
            wide_as = metrics.stringWidth(label.text, REGULAR, label.size)
            boxes = [window(tile) for tile in own]
            shifts = [(tile.left - tile.x, tile.bottom - tile.y) for tile in own]
            assert any(
                left <= label.x + right and label.x + wide_as + right <= most
                and low <= label.y - DESCENT * label.size + up and label.y + ASCENT * label.size + up <= high
                for (left, low, most, high), (right, up) in zip(boxes, shifts, strict=True)
            ), label.text  # fmt: skip
        lines = sorted(label.y for label in labels if label.x > piece.width - ASIDE)
        assert all(above - below >= 2.6 for below, above in itertools.pairwise(lines))


def test_drills() -> None:
    number = number_drill(1.0e-3)
    assert number is not None
    assert number.diameter == pytest.approx(0.039 * 25.4e-3)  # #61 is 0.0390 in (ASME B94.11M, from memory)
    assert metric_drill(0.98e-3).diameter == pytest.approx(1.0e-3)
    assert number_drill(9e-3) is None
    assert "#" not in plain(drill_advice(9e-3))


def test_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    design = str(EXAMPLES[0])
    target = tmp_path / "t.pdf"
    assert cli.main(["template", design, "-o", str(target), "--paper", "letter"]) == 0
    assert target.read_bytes().startswith(b"%PDF")
    assert cli.main(["template", design, "-o", str(tmp_path / "t.txt")]) == 2
    assert ".dxf" in plain(capsys.readouterr().err)
    assert cli.main(["template", design, "-o", str(target), "--paper-thickness", "5 ml"]) == 2
    with pytest.raises(InputError, match="letter"):
        save_template(burnsim.load(design), target, paper="leter")


@pytest.mark.parametrize("design", designs(), ids=str)
@pytest.mark.parametrize("paper", PAPERS)
def test_words_stay_on_their_page_and_clear_of_each_other(tmp_path: Path, design: str, paper: str) -> None:
    save_template(designs()[design], tmp_path / "t.pdf", paper=paper)
    for page in words_of(tmp_path / "t.pdf"):
        assert page.outside() == []
        assert page.overlapping() == []


@pytest.mark.parametrize("name", ["short", "a burner whose name is far too long for the foot of a page " * 2])
def test_the_foot_tells_the_page_however_long_the_name(tmp_path: Path, name: str) -> None:
    save_template(weekend(name=name.strip()), tmp_path / "t.pdf", paper="letter")
    pages = pypdf.PdfReader(tmp_path / "t.pdf").pages
    for k, page in enumerate(pages, 1):
        assert f"page {k} of {len(pages)}" in plain(page.extract_text())


def test_a_laser_finds_no_cross_hair_on_a_layer_that_it_cuts(tmp_path: Path) -> None:
    for name, setup in designs().items():
        save_template(setup, tmp_path / "t.dxf")
        drawing = ezdxf.readfile(tmp_path / "t.dxf")
        space = drawing.modelspace()
        assert {entity.dxf.layer for entity in space} <= {"CUT", "DRILL", "MARK", "FOLD", "TEXT"}
        jets = setup.burner.jets
        drilled = [entity.dxftype() for entity in space if entity.dxf.layer == "DRILL"]
        assert drilled == ["CIRCLE"] * (jets.count if jets else 0), name
        for entity in space:  # outlines and openings only: nothing that is shorter than the smallest cut
            if entity.dxf.layer == "CUT" and entity.dxftype() == "LWPOLYLINE":
                assert entity.closed or len(entity) == 4, name
        assert all(entity.dxf.layer == "TEXT" for entity in space.query("TEXT"))


def test_cross_hairs_stay_clear_of_each_other_and_of_the_rows_beside() -> None:
    setup = designs()["hundred"]
    piece = named(template_pieces(setup), "outer-wall")
    crosses = [
        i for i in piece.items if isinstance(i, Line) and i.layer == "mark" and not i.dashed and len(i.points) == 2
    ]
    assert len(crosses) == 200
    heights = sorted({round(i.y, 6) for i in piece.items if isinstance(i, Circle)})
    for upright in (i for i in crosses if i.points[0][0] == i.points[1][0]):
        low, high = sorted(y for _, y in upright.points)
        assert sum(low <= y <= high for y in heights) == 1  # its own row and no other
        assert high - low > 0.75  # seen beyond the hole


@pytest.mark.parametrize("design", designs(), ids=str)
def test_every_hole_has_its_number_beside_it(design: str) -> None:
    setup = designs()[design]
    jets = setup.burner.jets
    if jets is None:
        return
    [piece] = [
        piece
        for piece in template_pieces(setup)
        if any(isinstance(i, Circle) and i.layer == "drill" for i in piece.items)
    ]
    holes = [item for item in piece.items if isinstance(item, Circle) and item.layer == "drill"]
    numbers = [item for item in piece.items if isinstance(item, Label) and item.text.isdigit()]
    assert sorted(int(number.text) for number in numbers) == list(range(1, jets.count + 1))
    for number, hole in zip(sorted(numbers, key=lambda n: int(n.text)), holes, strict=True):
        assert dist((number.x, number.y), (hole.x, hole.y)) < 6.5
    boxes = [label_box(number) for number in numbers]
    around = pi * setup.burner.outer_diameter * 1e3 if piece.name == "outer-wall" else piece.width
    assert all(box[0] >= 0.0 and box[2] <= around for box in boxes)  # none crosses the seam
    assert not [1 for one, other in itertools.combinations(boxes, 2) if overlap(one, other)]


def label_box(label: Label) -> tuple[float, float, float, float]:
    wide = text_width(label.text, label.size)
    left = label.x - {"left": 0.0, "middle": 0.5, "right": 1.0}[label.align] * wide
    return left, label.y, left + wide, label.y + 0.65 * label.size


def overlap(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def test_spacing_is_told_as_paper_and_as_a_rule_measure_it() -> None:
    """26 holes round 62 mm: arc pi 62/26, chord 62 sin(pi/26)."""
    [words] = [line for line in map(plain, notes(weekend())) if line.startswith("Centres")]
    assert "7.49 mm apart along the paper (arc), 7.47 mm straight (chord), 13.85deg" in words
    [words] = [line for line in map(plain, notes(designs()["hundred"])) if line.startswith("Centres")]
    assert "rows 1.50 mm apart" in words
    on_top = [line for line in map(plain, notes(designs()["inches"])) if line.startswith("Centres")]
    assert len(on_top) == 2  # a line for each ring


@pytest.mark.parametrize("notches", [0, 3, 4])
def test_bumps_are_marked_evenly_at_the_rim_and_clear_of_the_notches(notches: int) -> None:
    relief = {"count": notches, "width": "3 mm", "depth": "1.5 mm"} if notches else None
    setup = weekend(**{"pot.rest": "bumps", "pot.bumps": 3, "pot.gap": "1.5 mm", "burner.relief": relief})
    piece = named(template_pieces(setup), "outer-wall")
    hooks = [i.points for i in piece.items if isinstance(i, Line) and i.layer == "mark" and len(i.points) == 3]
    around = pi * 62.0
    places = sorted(points[1][0] for points in hooks)
    assert [b - a for a, b in itertools.pairwise(places)] == pytest.approx([around / 3.0] * 2)
    assert places[0] > 1.0
    assert places[-1] < around - 1.0
    assert all(points[1][1] == pytest.approx(45.1) for points in hooks)
    cut = [i.points for i in piece.items if isinstance(i, Line) and i.layer == "cut" and not i.closed]
    assert all(abs(place - x) > 3.0 for place in places for points in cut for x, _ in points)


def test_words_follow_what_is_drawn(tmp_path: Path) -> None:
    for name, setup in designs().items():
        save_template(setup, tmp_path / "t.pdf")
        text = plain(" ".join(page.extract_text() for page in pypdf.PdfReader(tmp_path / "t.pdf").pages)).lower()
        burner = setup.burner
        assert ("cross" in text) == ("drill" in text.replace("drilling template", "")) == (burner.jets is not None), (
            name
        )
        assert ("notch" in text) == (burner.relief is not None), name
        assert ("bump" in text) == (setup.pot is not None and setup.pot.rest == "bumps"), name
        assert ("primer wick" in text) == (burner.wick is not None), name
        assert ("align both start lines" in text) == burner.has_inner_wall, name
        assert ("filler hole" in text) == (not burner.has_well), name
        assert "printed side out" in text
        assert "rim up" in text
    shown = plain(" ".join(notes(designs()["inches"])))
    assert "2 5/8 in" in shown
    assert "#65" in shown


def test_inches_and_fractions() -> None:
    assert plain(inches(66.675e-3)) == "2 5/8 in"
    assert plain(inches(5e-3)) == "0.197 in"
    assert plain(inches(25.4e-3)) == "1 in"
    assert "1/16 in" in plain(drill_advice(1.59e-3))

"""Every kind of page, in both schemes and at both widths, for people who do not see, point or move as others do.

Rules: axe-core 4, those tagged WCAG 2.0 to 2.2, levels A and AA, and its best practices. What axe cannot see (the order
of focus, zoom, the size of targets) is tested beside it.
"""

from __future__ import annotations

import functools
import http.server
import io
import shutil
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pypdf
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from passport import mkdocs_plugin
from passport.publish import edition, offline_edition
from tests.archives import DEMO, build

pytestmark = pytest.mark.browser

RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
CONTRAST = "color-contrast"
WIDTHS = {"phone": 390, "desk": 1280}
# WCAG 2.2, 2.5.8 Target Size (Minimum), level AA.
LEAST_TARGET_PX = 24
# WCAG 2.1, 1.4.10 Reflow: 1280 px at 400 %.
ZOOMED_PX = 320
PUBLIC_PAGES = (
    "", "reading/", "care/", "catalogue/", "catalogue/?kind=cello", "wood/", "varnish/", "models/", "wood/SP09B/",
    "varnish/OV20-3/", "models/harrow-1/", "ZVSPYJH/", "ZVSPYJH/sums/", "YXSP8BQ/", "YXSP8BQ/sums/", "verify/",
    "side-by-side/", "side-by-side/violin-4-4-tap-tones/", "side-by-side/wood-picea-abies/", "404.html",
)  # fmt: skip
SHOP_PAGES = (
    "ZVSPYJH/", "work-lists/", "findings/", "catalogue/", "varnish/OV20-3/", "side-by-side/violin-4-4-strings-by-lot/",
)  # fmt: skip
# WCAG 2.1, 1.4.12 Text Spacing; set element by element, since a page may allow no style but its own.
SPACED = """() => {
    const spacing = {'line-height': '1.5', 'letter-spacing': '0.12em', 'word-spacing': '0.16em'};
    for (const element of document.querySelectorAll('*')) {
        for (const [name, value] of Object.entries(spacing)) element.style?.setProperty(name, value, 'important');
        if (element.matches('p')) element.style.setProperty('margin-bottom', '2em', 'important');
    }
}"""
OFFLINE_PAGES = ("index.html", "ZVSPYJH/index.html", "catalogue/index.html")


class _Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, *args: object) -> None:
        """Stay quiet."""


@dataclass(frozen=True)
class Sites:
    """The demo built three times: where the two served sites answer, and where the copy lies."""

    public: str
    shop: str
    offline: str


@pytest.fixture(scope="module")
def sites(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Sites]:
    folder = tmp_path_factory.mktemp("demo")
    records = Path(shutil.copytree(DEMO, folder / "records"))
    build(records, folder / "public")
    build(records, folder / "shop", "shop")
    mkdocs_plugin.build(offline_edition(edition(records, "public")), records, folder / "offline")
    with served(folder / "public") as public, served(folder / "shop") as shop:
        yield Sites(public, shop, (folder / "offline").as_uri() + "/")


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """Show a site at the root of a host of its own, as the not-found page wants it."""
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(_Quiet, directory=str(folder)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    server.server_close()


PLACES = [
    *(("public", page) for page in PUBLIC_PAGES),
    *(("shop", page) for page in SHOP_PAGES),
    *(("offline", page) for page in OFFLINE_PAGES),
]


@pytest.fixture(scope="module", params=["light", "dark"])
def page(request: pytest.FixtureRequest, browser: Browser) -> Iterator[Page]:
    context = browser.new_context(color_scheme=request.param, reduced_motion="reduce")
    made = context.new_page()
    yield made
    context.close()


@pytest.mark.parametrize("width", WIDTHS.values(), ids=WIDTHS)
@pytest.mark.parametrize(("site", "path"), PLACES)
def test_axe_finds_nothing(sites: Sites, page: Page, site: str, path: str, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 844})
    page.goto(getattr(sites, site) + path)
    page.wait_for_load_state("load")
    is_dark = page.evaluate("matchMedia('(prefers-color-scheme: dark)').matches")
    # By the scheme nothing changes but the colours.
    rules = {"type": "rule", "values": [CONTRAST]} if is_dark else {"type": "tag", "values": RULES}
    found = Axe().run(page, options={"runOnly": rules})
    told = [
        f"{violation['id']}: {node['html'][:160]} {node.get('failureSummary', '')[:300]}"
        for violation in found.response["violations"]
        for node in violation["nodes"]
    ]
    assert told == []
    assert len(found.response["passes"]) > (0 if is_dark else 10)


REACHABLE = """() => [...document.querySelectorAll('a[href], button, input, select, summary, [tabindex="0"]')]
    .filter(e => e.checkVisibility({visibilityProperty: true}) && !e.disabled && e.tabIndex >= 0
        && e.getBoundingClientRect().width > 0 && !(e.type === 'radio' && !e.checked))"""


# How an element and what it stands in look, as far as that can tell where the focus is.
LOOKS = """var looks = e => [e, e.parentElement, e.parentElement?.parentElement].filter(Boolean)
    .map(x => { const s = getComputedStyle(x); return [s.outlineStyle === 'none' ? '' : s.outlineColor, s.boxShadow,
        s.borderBottomColor, s.borderBottomWidth, s.backgroundColor, s.color].join(); }).join('|');"""


@pytest.mark.parametrize(
    ("site", "path"),
    [
        ("public", ""),
        ("public", "ZVSPYJH/"),
        ("public", "catalogue/"),
        ("shop", "work-lists/"),
        ("public", "side-by-side/violin-4-4-tap-tones/"),
    ],
)
def test_the_keyboard_alone_reaches_everything_and_shows_where_it_is(
    sites: Sites, page: Page, site: str, path: str
) -> None:
    page.set_viewport_size({"width": 1280, "height": 844})
    page.goto(getattr(sites, site) + path)
    page.evaluate(f"{LOOKS} ({REACHABLE})().forEach((e, i) => {{ e.dataset.stop = i; e.dataset.looks = looks(e); }})")
    wanted = set(page.evaluate("() => [...document.querySelectorAll('[data-stop]')].map(e => e.dataset.stop)"))
    seen: list[str] = []
    for _ in range(len(wanted) * 2 + 20):
        page.keyboard.press("Tab")
        stop, is_shown = page.evaluate(
            f"{LOOKS} (e => [e.dataset.stop ?? '', looks(e) !== e.dataset.looks])(document.activeElement)"
        )
        if stop:
            assert is_shown, page.evaluate("() => document.activeElement.outerHTML.slice(0, 200)")
        if stop in seen[:1]:
            break
        seen += [stop] if stop else []
    missed = [
        page.evaluate(f"() => document.querySelector('[data-stop=\"{s}\"]').outerHTML.slice(0, 160)")
        for s in wanted - set(seen)
    ]
    assert missed == []


@pytest.mark.parametrize(("site", "path"), [*PLACES[:16], ("shop", "ZVSPYJH/"), ("shop", "work-lists/")])
def test_at_four_hundred_percent_only_tables_scroll_sideways(sites: Sites, page: Page, site: str, path: str) -> None:
    page.set_viewport_size({"width": ZOOMED_PX, "height": 256})
    page.goto(getattr(sites, site) + path)
    wide, around = page.evaluate("() => [document.documentElement.scrollWidth, document.documentElement.clientWidth]")
    assert wide <= around
    page.evaluate(SPACED)
    assert page.evaluate("() => document.documentElement.scrollWidth") <= around


@pytest.mark.parametrize(("site", "path"), [*PLACES[:16], ("shop", "ZVSPYJH/"), ("shop", "work-lists/")])
def test_targets_are_large_enough_or_stand_in_a_sentence(sites: Sites, page: Page, site: str, path: str) -> None:
    page.set_viewport_size({"width": WIDTHS["phone"], "height": 844})
    page.goto(getattr(sites, site) + path)
    small = page.evaluate(
        f"""() => ({REACHABLE})().filter(e => {{
            const box = e.getBoundingClientRect(), inSentence = getComputedStyle(e).display === 'inline';
            return !inSentence && !e.closest('.skip') && Math.min(box.width, box.height) < {LEAST_TARGET_PX} - 0.5;
        }}).map(e => e.outerHTML.slice(0, 160))"""
    )
    assert small == []


def test_nothing_moves_for_those_who_asked_for_stillness(sites: Sites, page: Page) -> None:
    page.goto(f"{sites.public}ZVSPYJH/")
    moving = page.evaluate(
        """() => [...document.querySelectorAll('*')].filter(e => { const s = getComputedStyle(e);
            return Math.max(...s.transitionDuration.split(',').map(parseFloat)) > 0.01 || s.scrollBehavior === 'smooth'
                || s.animationName !== 'none' && parseFloat(s.animationDuration) > 0.01;
        }).map(e => e.outerHTML.slice(0, 120))"""
    )
    assert moving == []


def test_drawings_are_told_in_words_and_stand_beside_a_table(sites: Sites, page: Page) -> None:
    # On the page of an instrument the table may stand one step away, among the sums.
    near = {
        "ZVSPYJH/": "xpath=ancestor::section[1]//*[self::table or self::a[contains(@href, 'sums/')]]",
        "ZVSPYJH/sums/": "xpath=ancestor::div[@class='workings'][1]//table",
    }
    for path, beside in near.items():
        page.goto(f"{sites.public}{path}")
        drawings = page.locator("main figure.drawing svg").all()
        assert len(drawings) >= 3
        for drawing in drawings:
            assert drawing.get_attribute("role") == "img"
            assert drawing.locator("title").first.text_content()
            assert len(drawing.locator("desc").first.text_content() or "") > 20
            assert drawing.locator(beside).count() >= 1


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_on_paper_every_section_stands_and_nothing_to_click_on(sites: Sites, page: Page, paper: str) -> None:
    page.goto(f"{sites.public}ZVSPYJH/")
    wanted = page.locator("main h2").all_inner_texts()
    sheets = pypdf.PdfReader(io.BytesIO(page.pdf(format=paper))).pages
    told = "\n".join(sheet.extract_text() for sheet in sheets)
    assert [heading for heading in wanted if heading not in told] == []
    assert [word for word in ("Skip to content", "Contents", "Search") if word in told] == []
    # A sheet ends after a heading when its last words are one, and the next sheet begins with what it stands over.
    assert [sheet for sheet in sheets if sheet.extract_text().strip().split("\n")[-1] in wanted] == []

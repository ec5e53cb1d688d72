"""Redirects for old addresses: what was written is parsed as its standard says, and each label followed to its page.

Apache HTTP Server 2.4 documentation, mod_rewrite (RewriteCond, RewriteRule, %N back-references, flags NC, R, L);
nginx documentation, ngx_http_rewrite_module (if, rewrite … permanent, $N); HTML Living Standard, 4.2.5.3 (refresh).
Both servers match with PCRE; Python's `re` means the same by the few signs used here.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from pathlib import Path
from urllib.parse import urljoin, urlsplit

import html5lib
import pytest

from passport.labels.code import encode
from passport.labels.redirects import not_plain, redirect_files
from passport.records.catalogue import load
from passport.views.printed import Redirect, redirects
from tests import archives
from tests.archives import LISTED, OTHER, SHOP_ONLY, SITE, TAIL, UNLISTED

OLD = "https://labels.nether-poole.net/"
BELOW = "http://nether-poole.net:8080/passports/"
RENEWED = TAIL[::-1]
ROWS = {
    f"{OLD}{LISTED}/": f"{LISTED}/",
    f"{BELOW}{OTHER}/": f"{OTHER}/",
    f"{OLD}{UNLISTED}-{TAIL}/": f"{UNLISTED}-{TAIL}/",
    f"{OLD}{UNLISTED}-{RENEWED}/": f"{UNLISTED}-{TAIL}/",
    f"{SITE.replace('https', 'http')}{LISTED}/": f"{LISTED}/",
    f"{SITE}{UNLISTED}-{RENEWED[1:]}X/": f"{UNLISTED}-{TAIL}/",
}
# Printed while it was listed: sent on from its number, the unlisted page could be found by trying.
GIVEN_AWAY = f"{OLD}{UNLISTED}/"
NO_PAGE = f"{OLD}{SHOP_ONLY}/"

Follow = Callable[[Mapping[str, str], str], str | None]


@pytest.fixture(scope="module")
def records(tmp_path_factory: pytest.TempPathFactory) -> Path:
    rows = [f"2024-03-01,{urlsplit(row).path.split('/')[-2][:7]},{row},60x30" for row in (*ROWS, GIVEN_AWAY, NO_PAGE)]
    log = "\n".join(["date,id,address,stock", *rows, ""])
    return archives.write(tmp_path_factory.mktemp("shop") / "records", {"printed-labels.csv": log})


@pytest.fixture(scope="module")
def wanted(records: Path) -> tuple[Redirect, ...]:
    return redirects(load(records))


@pytest.fixture(scope="module")
def files(wanted: tuple[Redirect, ...]) -> Mapping[str, str]:
    return {name: content.decode() for name, content in redirect_files(wanted).items()}


def folder(address: str) -> str:
    return urlsplit(address).netloc.lower().replace(":", "-")


def by_apache(files: Mapping[str, str], address: str) -> str | None:
    """Follow an address by the rules for Apache; its conditions stand above the rule that they belong to."""
    parts = urlsplit(address)
    conditions: list[re.Match[str] | None] = []
    variables = {"%{HTTP_HOST}": parts.netloc, "%{REQUEST_URI}": parts.path}
    for line in files[f"{folder(address)}/apache.txt"].splitlines():
        words = line.split()
        if line.startswith("RewriteCond %{HTTPS}"):
            wants_plain = words[2].startswith("!")
            conditions.append(re.match("", "") if (parts.scheme.lower() == "http") is wants_plain else None)
        elif line.startswith("RewriteCond"):
            flags = re.IGNORECASE if words[3:] == ["[NC]"] else 0
            conditions.append(re.search(words[2], variables[words[1]], flags))
        elif line.startswith("RewriteRule"):
            assert words[1] == "^"
            assert words[3] == "[R=301,L]"
            last = conditions[-1]
            if all(conditions) and last is not None:
                return re.sub("%([0-9])", lambda number, last=last: last[int(number[1])], words[2])
            conditions = []
        else:
            assert line.startswith("#") or line in ("", "RewriteEngine On")
    return None


NGINX_BLOCK = re.compile(r'if \((\$scheme|\$http_host) (=|~\*) (\S+)\) \{\n    rewrite "(\S+)" (\S+) permanent;\n\}\n')


def by_nginx(files: Mapping[str, str], address: str) -> str | None:
    parts = urlsplit(address)
    text = files[f"{folder(address)}/nginx.txt"]
    assert not re.sub(r"(?m)^#.*\n|\n", "", NGINX_BLOCK.sub("", text))
    for variable, sign, value, pattern, target in NGINX_BLOCK.findall(text):
        read = {"$scheme": parts.scheme.lower(), "$http_host": parts.netloc}[variable]
        applies = read == value if sign == "=" else re.search(value.strip('"'), read, re.IGNORECASE)
        found = re.search(pattern, parts.path)
        if applies and found:
            return re.sub(r"\$([0-9])", lambda number, found=found: found[int(number[1])], target)
    return None


def by_page(files: Mapping[str, str], address: str) -> str | None:
    page = files.get(f"{folder(address)}/pages{urlsplit(address).path}index.html")
    if page is None:
        return None
    tree = html5lib.parse(page, namespaceHTMLElements=False)
    seconds, target = (
        next(m for m in tree.iter("meta") if m.get("http-equiv") == "refresh").get("content").split("; url=")
    )
    assert seconds == "0"
    assert [link.get("href") for link in tree.iter("link") if link.get("rel") == "canonical"] == [target]
    assert [link.get("href") for link in tree.iter("a")] == [target]
    return str(target)


WAYS = pytest.mark.parametrize("follow", [by_apache, by_nginx, by_page])
# On the site's own host a file would lie among the site's own, or on top of the page that it leads to.
FOLLOWED = pytest.mark.parametrize(
    ("follow", "printed"),
    [
        (follow, printed)
        for follow in (by_apache, by_nginx, by_page)
        for printed in ROWS
        if follow is not by_page or folder(printed) != folder(SITE)
    ],
)


@FOLLOWED
def test_each_printed_address_leads_to_its_page_of_the_built_site(
    records: Path, files: Mapping[str, str], follow: Follow, printed: str, tmp_path: Path
) -> None:
    target = follow(files, printed)
    assert target == f"{SITE}{ROWS[printed]}"
    archives.build(records, tmp_path / "site", with_errors=True)
    assert (tmp_path / "site" / urlsplit(target).path.lstrip("/") / "index.html").is_file()


@FOLLOWED
def test_so_does_the_code_on_the_label_whose_host_is_in_capitals(
    files: Mapping[str, str], follow: Follow, printed: str
) -> None:
    code = encode(printed).text
    assert urlsplit(code).netloc == urlsplit(printed).netloc.upper() or "/passports/" in printed
    assert follow(files, code) == f"{SITE}{ROWS[printed]}"


@FOLLOWED
def test_no_redirect_ends_where_another_begins(files: Mapping[str, str], follow: Follow, printed: str) -> None:
    target = follow(files, printed)
    assert target is not None
    assert follow(files, target) is None


def test_no_file_is_written_for_the_host_of_the_site_itself(files: Mapping[str, str]) -> None:
    names = [name for name in files if name.startswith(folder(SITE))]
    assert sorted(names) == [f"{folder(SITE)}/{name}" for name in ("apache.txt", "nginx.txt", "read-me.txt")]
    assert "pages/" not in files[f"{folder(SITE)}/read-me.txt"]


@WAYS
@pytest.mark.parametrize("address", [GIVEN_AWAY, NO_PAGE, f"{OLD}contact/", f"{OLD}gallery/", OLD, f"{OLD}x/{LISTED}/"])
def test_nothing_else_is_sent_to_a_page(files: Mapping[str, str], follow: Follow, address: str) -> None:
    target = follow(files, address)
    # The rule for all knows numbers only: these lead to an address where the site has no page.
    assert target in (None, urljoin(SITE, urlsplit(address).path))
    assert target not in {f"{SITE}{page}" for page in ROWS.values()}
    assert f"{UNLISTED}-" not in (target or "")


def test_what_is_private_says_so_and_stands_only_where_it_must(files: Mapping[str, str]) -> None:
    host = folder(OLD)
    private = {name for name, text in files.items() if TAIL in text + name or RENEWED in text + name}
    # The renewed end needs a rule of its own; without one, pages/ would be the only place.
    assert {name.split("/")[1] for name in private} == {"apache.txt", "nginx.txt", "pages"}
    assert {name.split("/")[0] for name in private} == {host, folder(SITE)}
    assert "in the rules and pages/" in files[f"{host}/read-me.txt"]
    assert "in the rules stand" in files[f"{folder(SITE)}/read-me.txt"]
    assert "PRIVATE" not in files[f"{folder(BELOW)}/read-me.txt"]
    for name in private:
        assert ("noindex" in files[name] and "no-referrer" in files[name]) or name.endswith(".txt")
    assert "noindex" not in files[f"{host}/pages/{LISTED}/index.html"]


def test_labels_that_lead_to_a_host_of_their_own_are_sent_on_before_they_are_printed(tmp_path: Path) -> None:
    workshop = f"{archives.WORKSHOP}label_address: {OLD}\n"
    wanted = redirects(load(archives.write(tmp_path, {"workshop.yml": workshop})))
    files = {name: content.decode() for name, content in redirect_files(wanted).items()}
    for end in (f"{LISTED}/", f"{OTHER}/", f"{UNLISTED}-{TAIL}/"):
        assert {follow(files, OLD + end) for follow in (by_apache, by_nginx, by_page)} == {SITE + end}
    assert TAIL not in files[f"{folder(OLD)}/apache.txt"] + files[f"{folder(OLD)}/nginx.txt"]


@pytest.mark.parametrize("path", ["a%2fb/", "../../", ".hidden/", "a$1/", 'a"b/', "a{2}/", "?a=/"])
def test_an_address_that_rules_or_file_names_would_take_otherwise_is_left_to_a_person(path: str) -> None:
    odd = Redirect(f"{OLD}{path}{LISTED}/", f"{SITE}{LISTED}/", unlisted=False)
    assert redirect_files([odd]) == {}
    assert not_plain([odd]) == (odd.printed,)

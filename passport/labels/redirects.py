"""What the host of an old address needs so that printed labels go on leading to their pages.

Rules for the two commonest web servers, and pages for a host that only takes files. Gives files; writes none.
Apache HTTP Server 2.4, mod_rewrite; nginx, ngx_http_rewrite_module; HTML standard, “refresh”; RFC 6596, “canonical”.
"""

from __future__ import annotations

import html
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from passport.views.printed import Redirect

# What means the same in an address, in a rule of either server and in the name of a file.
PLAIN = re.compile(r"(https?)://([a-z0-9.-]+(?::[0-9]+)?)((?:/[A-Za-z0-9_~-][A-Za-z0-9_~.-]*)+/)")
# An instrument's number, and the end of an unlisted address. Nothing else on the old host is sent on: a rule for any
# seven letters would take its /contact/ along.
INSTRUMENT = "[2-9A-Z]{7}(-[2-9A-Za-z]{17})?"


@dataclass(frozen=True)
class _Address:
    scheme: str
    host: str
    base: str
    end: str

    @property
    def site(self) -> str:
        return f"{self.scheme}://{self.host}{self.base}"


@dataclass(frozen=True)
class _Way:
    """A redirect with both its addresses taken apart."""

    old: _Address
    page: _Address
    redirect: Redirect

    @property
    def stays(self) -> bool:
        """Tell whether the page is on the same site: a file there would lie among the site's own, or on top of it."""
        return (self.old.host, self.old.base) == (self.page.host, self.page.base)


@dataclass(frozen=True)
class _Rule:
    """Paths of a host that are sent on; `{}` in `target` stands for the instrument's own part.

    `only` is a scheme: where nothing but the scheme changes, the other one must not be sent on to itself for ever.
    """

    paths: str
    target: str
    only: str = ""

    @property
    def for_all(self) -> bool:
        """Tell whether this rule is for all instruments at once."""
        return "{}" in self.target


def redirect_files(redirects: Iterable[Redirect]) -> Mapping[str, bytes]:
    """Give the files by name, a folder for each old host."""
    by_host: dict[str, list[_Way]] = defaultdict(list)
    for each in redirects:
        way = _way(each)
        if way is not None:
            by_host[way.old.host].append(way)
    files: dict[str, str] = {}
    for host, ways in by_host.items():
        files |= {f"{host.replace(':', '-')}/{name}": text for name, text in _files_of_host(host, ways)}
    return {name: text.encode() for name, text in files.items()}


def _files_of_host(host: str, ways: Sequence[_Way]) -> Iterator[tuple[str, str]]:
    # Single addresses before the rule for all, which would catch them.
    rules = sorted(dict.fromkeys(_rule(way) for way in ways), key=lambda rule: rule.for_all)
    yield "read-me.txt", _read_me(host, ways)
    yield "apache.txt", "\n".join([APACHE_HEAD, *(_apache(host, rule) for rule in rules)])
    yield "nginx.txt", "\n".join([NGINX_HEAD, *(_nginx(host, rule) for rule in rules)])
    for way in (way for way in ways if not way.stays):
        yield f"pages{way.old.base}{way.old.end}/index.html", _page(way.redirect)


def not_plain(redirects: Iterable[Redirect]) -> tuple[str, ...]:
    """Give the printed addresses for which no rule can be written: those with unusual signs in them."""
    return tuple(each.printed for each in redirects if _way(each) is None)


def _way(redirect: Redirect) -> _Way | None:
    old, page = _taken_apart(redirect.printed), _taken_apart(redirect.page)
    return _Way(old, page, redirect) if old is not None and page is not None else None


def _taken_apart(address: str) -> _Address | None:
    scheme, colon, rest = address.partition(":")
    host = re.sub("^//[^/]*", lambda found: found.group().lower(), rest)
    parts = PLAIN.fullmatch(scheme.lower() + colon + host)
    if parts is None:
        return None
    base, end = parts[3].rstrip("/").rsplit("/", 1)
    return _Address(parts[1], parts[2], f"{base}/", end)


def _rule(way: _Way) -> _Rule:
    old, page = way.old, way.page
    if old.end != page.end:
        return _Rule(f"^{re.escape(old.base + old.end)}/?$", way.redirect.page)
    only = old.scheme if way.stays else ""
    return _Rule(f"^{re.escape(old.base)}({INSTRUMENT})/?$", f"{page.site}{{}}/", only)


APACHE_HEAD = """\
# For Apache HTTP Server with mod_rewrite: put this into the file .htaccess in the top folder of the old host,
# or into its <VirtualHost>.
RewriteEngine On
"""


def _apache(host: str, rule: _Rule) -> str:
    scheme = {"http": "RewriteCond %{HTTPS} !=on\n", "https": "RewriteCond %{HTTPS} =on\n", "": ""}[rule.only]
    return (
        f"RewriteCond %{{HTTP_HOST}} ^{re.escape(host)}$ [NC]\n{scheme}"
        f"RewriteCond %{{REQUEST_URI}} {rule.paths}\n"
        f"RewriteRule ^ {rule.target.format('%1')} [R=301,L]\n"
    )


NGINX_HEAD = """\
# For nginx: put this into the server block of the old host, above its locations.
"""


def _nginx(host: str, rule: _Rule) -> str:
    condition = f"$scheme = {rule.only}" if rule.only else f'$http_host ~* "^{re.escape(host)}$"'
    rewrite = f'rewrite "{rule.paths}" {rule.target.format("$1")} permanent;'
    return f"if ({condition}) {{\n    {rewrite}\n}}\n"


def _page(redirect: Redirect) -> str:
    address = html.escape(redirect.page)
    private = '<meta name="robots" content="noindex">\n<meta name="referrer" content="no-referrer">\n'
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>This page has moved</title>\n{private if redirect.unlisted else ''}"
        f'<link rel="canonical" href="{address}">\n<meta http-equiv="refresh" content="0; url={address}">\n'
        f'</head>\n<body>\n<p>This page has moved to <a href="{address}">{address}</a>.</p>\n</body>\n</html>\n'
    )


def _read_me(host: str, ways: Sequence[_Way]) -> str:
    text = READ_ME.format(host=host) + (PAGES if any(not way.stays for way in ways) else "")
    unlisted = [way for way in ways if way.redirect.unlisted]
    places = (
        *(["the rules"] if any(way.old.end != way.page.end for way in unlisted) else []),
        *(["pages/"] if any(not way.stays for way in unlisted) else []),
    )
    return text + (PRIVATE.format(where=" and ".join(places)) if places else "")


READ_ME = """\
For whoever runs {host}

Labels in instrument cases lead to addresses on this host, and will for decades. The pages have other addresses now;
please send visitors on. One of these is enough:

apache.txt  rules for Apache HTTP Server
nginx.txt   rules for nginx
"""
PAGES = """\
pages/      where only files can be put: copy what is inside into the top folder of the host. Every label printed
            so far has its page there; once more are printed, have this folder written anew.
"""
PRIVATE = """
PRIVATE: in {where} stand addresses of unlisted pages, which only a label may know. Hand them to nobody else,
keep them out of public repositories, and let the host show no listing of its folders.
"""

"""Addresses of the web as text: which may be printed on a label that has to lead somewhere for a lifetime.

Judges the text of an address alone; looks nothing up.
"""

from __future__ import annotations

import ipaddress
import re
from urllib.parse import SplitResult, urlsplit

from passport.errors import PassportError

# RFC 2606 sections 2 and 3, and RFC 6761: names set aside for examples and tests.
PLACEHOLDER_DOMAINS = ("example", "test", "invalid", "localhost", "example.com", "example.net", "example.org")
# RFC 6762 (local) and its appendix G, RFC 8375 (home.arpa): names that only a private network knows.
PRIVATE_DOMAINS = ("local", "home.arpa", "internal", "intranet", "private", "corp", "home", "lan")

PUT_RIGHT = "Put the address that customers will reach into workshop.yml, or print a proof with --proof."


def refuse_unprintable(address: str) -> None:
    """Raise `PassportError` for an address that a stranger's phone could not open."""
    reason = why_unreachable(address)
    if reason:
        raise PassportError(f"The label's address {_quoted(address)} cannot be printed: {reason}.", PUT_RIGHT)


def host_and_path(address: str) -> tuple[str, str]:
    """Split an address into the half where capitals mean nothing, scheme and host, and the rest."""
    halves = re.fullmatch(r"(https?://[^/?#@]*)([/?#].*)?", address, re.IGNORECASE | re.DOTALL)
    return (halves[1], halves[2] or "") if halves else ("", address)


def same_address(read: str, recorded: str) -> bool:
    """Whether two addresses mean one page; capitals mean nothing in scheme and host (RFC 3986, 6.2.2.1)."""
    read_host, read_path = host_and_path(read)
    host, path = host_and_path(recorded)
    return read_host.lower() == host.lower() and read_path == path


def _quoted(address: str) -> str:
    return f"“{address}”" if address.strip() else "(empty)"


def why_unreachable(address: str) -> str:
    """Say why a stranger's phone could not open an address; nothing where it could."""
    if not address.strip():
        return "it is empty"
    if not address.isascii():
        return "phones read letters outside plain ASCII in different ways; write the host in its xn-- form"
    if any(not sign.isprintable() or sign.isspace() for sign in address):
        return "it has a blank or an unprintable sign in it"
    try:
        parts = urlsplit(address)
        host = (parts.hostname or "").rstrip(".")
        _ = parts.port
    except ValueError:
        return "it is not a well-formed address"
    return _scheme_reason(parts) or _host_reason(host)


def _scheme_reason(parts: SplitResult) -> str:
    if parts.scheme.lower() not in {"http", "https"}:
        return "it does not begin with https:// or http://"
    if "@" in parts.netloc:
        return "it has a user name or password in it"
    return ""


def _host_reason(host: str) -> str:
    if not host:
        return "it names no host"
    number = _ip(host)
    if number is not None:
        return _ip_reason(number)
    if _within(host, PLACEHOLDER_DOMAINS):
        return f"“{host}” is a name kept for examples and tests, and leads nowhere"
    if "." not in host or _within(host, PRIVATE_DOMAINS):
        return f"“{host}” is known only inside one network"
    if host.rsplit(".", 1)[1][0].isdigit():
        # The URL standard (WHATWG, "ends in a number") takes such a host for a shortened IPv4 address.
        return f"“{host}” is not a complete number address"
    return ""


def _within(host: str, domains: tuple[str, ...]) -> bool:
    return any(host.lower() == domain or host.lower().endswith("." + domain) for domain in domains)


def _ip(host: str) -> ipaddress.IPv4Address | ipaddress.IPv6Address | None:
    try:
        number = ipaddress.ip_address(host)
    except ValueError:
        return None
    mapped = number.ipv4_mapped if isinstance(number, ipaddress.IPv6Address) else None
    return mapped or number


def _ip_reason(number: ipaddress.IPv4Address | ipaddress.IPv6Address) -> str:
    if number.is_loopback:
        return f"{number} is this computer itself"
    if number.is_link_local:
        return f"{number} reaches only as far as one cable"
    if not number.is_global or number.is_multicast:
        return f"{number} is an address inside a private or reserved network"
    return ""

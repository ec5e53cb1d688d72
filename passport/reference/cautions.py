"""The usual cautions for work that can hurt, by hazard; they defer to local codes and licensed practice.

Oily rags: fire-service and workshop safety pages agree. Ultraviolet limits: ICNIRP 2004, Health Physics 87(2):171-186
(30 J/m2 effective, 180 to 400 nm; 10 000 J/m2 UV-A to the eye, both in 8 h). The rest is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

CAUTIONS: Mapping[str, str] = MappingProxyType(
    {
        "drying_oil": (
            "Rags with drying oil heat up by themselves within hours and can catch fire: spread them flat "
            "outdoors or keep them under water in a closed metal can, and dispose of them as your local "
            "code says."
        ),
        "hot_oil": (
            "Cook oil and resin outdoors on an electric plate, never over gas, with a lid and dry sand at "
            "hand; keep out of the fumes."
        ),
        "solvent": (
            "Solvents burn and their vapours harm: no flame or spark near them, air moving, gloves; "
            "follow the safety data sheet."
        ),
        "uv": (
            "Ultraviolet light harms eyes and skin in minutes: a closed and interlocked cabinet, goggles "
            "and covered skin; lamps below 240 nm also make ozone."
        ),
        "dust": (
            "Dust of spruce, ebony and rosewood irritates and sensitises: extraction and a mask; local "
            "limits for wood dust apply."
        ),
        "lead": (
            "Lead driers and pigments are poisonous and restricted: gloves, no food at the bench, waste "
            "as your local code says."
        ),
        "chrome": (
            "Chromates are poisonous, can cause cancer and are restricted: use them only where licensed "
            "practice allows."
        ),
        "nitrite": (
            "Nitrites are poisonous and make acids into toxic gas: keep them apart from acids, gloves, air moving."
        ),
    }
)

DEFERENCE = "These are the usual cautions; local codes and licensed practice come first."

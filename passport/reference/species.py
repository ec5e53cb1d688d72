"""Common names of the woods the trade meets, by scientific name.

Common practice, no source; a record may give its own common name instead.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

COMMON_NAMES: Mapping[str, str] = MappingProxyType(
    {
        "Picea abies": "Norway spruce",
        "Picea sitchensis": "Sitka spruce",
        "Picea engelmannii": "Engelmann spruce",
        "Picea rubens": "red spruce",
        "Picea glauca": "white spruce",
        "Picea mariana": "black spruce",
        "Acer pseudoplatanus": "sycamore maple",
        "Acer platanoides": "Norway maple",
        "Acer saccharum": "sugar maple",
        "Acer rubrum": "red maple",
        "Acer macrophyllum": "bigleaf maple",
        "Populus nigra": "black poplar",
        "Populus alba": "white poplar",
        "Salix alba": "white willow",
        "Salix nigra": "black willow",
        "Tilia cordata": "lime",
        "Tilia americana": "basswood",
        "Pyrus communis": "pear",
        "Prunus avium": "wild cherry",
        "Prunus serotina": "black cherry",
        "Juglans regia": "walnut",
        "Juglans nigra": "black walnut",
        "Buxus sempervirens": "boxwood",
        "Diospyros crassiflora": "African ebony",
        "Diospyros ebenum": "Ceylon ebony",
        "Diospyros celebica": "Macassar ebony",
        "Dalbergia latifolia": "Indian rosewood",
        "Dalbergia nigra": "Rio rosewood",
        "Paubrasilia echinata": "pernambuco",
        "Carpinus betulus": "hornbeam",
        "Robinia pseudoacacia": "robinia",
        "Alnus glutinosa": "alder",
    }
)

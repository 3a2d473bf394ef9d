"""What a group that was not decoded may have been, by its letters: where that is not clear, cloud and visibility.

A design choice, not a published rule: what may have been said worse than all the rest makes that quantity unknown.
"""

from __future__ import annotations

import re

from briefgen.reports import model

_MAY_BE = (
    (model.WIND, re.compile(r"KTS?|MPS|KMH|VRB|G[0-9OP]{2}|^[0-9O]{5}")),
    (model.VISIBILITY, re.compile(r"SM|[0-9]/[0-9]|NDV|CAVO|CAV0|^[0-9O]{4}$")),
    (model.CEILING, re.compile(r"FEW|SCT|BKN|OVC|VV|CB|TCU|CAVO|CAV0|SKC|CLR|NSC|[A-Z]{3}[0-9O/]{3}")),
)
# Settings, temperatures, a runway's visual range or state, extremes: of none of those quantities.
_NEITHER = re.compile(
    r"[AQ][0-9OIl/]{3,5}|QNH\w*|(?:M?[0-9O]{2}|//)/(?:M?[0-9O]{2}|//)|R[0-9]{2}[LCR]?/\S*|T[XN]\S+Z"
)


def may_be(token: str) -> tuple[str, ...]:
    """Return the quantities that a token may have given: wind, visibility, ceiling; none where it cannot.

    Parameters
    ----------
    token : as it was sent.

    >>> may_be("BKN0O8"), may_be("1/4SMX"), may_be("00020G35KT"), may_be("1SN4"), may_be("A30O2")
    (('ceiling',), ('visibility',), ('wind',), ('visibility', 'ceiling'), ())
    """
    token = token.upper()
    if _NEITHER.fullmatch(token):
        return ()
    found = tuple(quantity for quantity, letters in _MAY_BE if letters.search(token))
    return found or (model.VISIBILITY, model.CEILING)

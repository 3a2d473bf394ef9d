"""The panels of a staged graph as an audit draws them: every line through its points, the suspects ringed."""

from __future__ import annotations

from collections.abc import Sequence

from briefgen.model.typed_graph import TypedPanel
from briefgen.render.curves import Curve, Panel, Ringed
from briefgen.studies.graph_audit import Misread
from briefgen.studies.table_audit import Finding


def drawn(panel: TypedPanel, misread: Sequence[Misread], named: Sequence[tuple[str, Finding]]) -> Panel:
    """Return one panel as it is drawn.

    Parameters
    ----------
    panel : as typed.
    misread : the points that look wrong, of any panel.
    named : every finding with the number that it bears.
    """
    ringed = [
        Ringed(name, each.point.at, each.point.value, each.finding.expected)
        for each in misread
        for name, finding in named
        if each.panel is panel and finding is each.finding
    ]
    outer = {0, len(panel.lines) - 1}
    curves = tuple(
        Curve(
            tuple((point.at, point.value) for point in line.points),
            line.name.removeprefix("the ") if i in outer else "",
            False,
        )
        for i, line in enumerate(panel.lines)
    )
    rings = f"; ringed: {', '.join(each.name for each in ringed)}" if ringed else ""
    text = f"{panel.name} [{panel.scale}], {len(panel.lines)} lines over {panel.subject} [{panel.across}]{rings}"
    return Panel(panel.subject, panel.scale, panel.across, curves, tuple(ringed), text)

"""The chart of spinal-load: bars against the first setup, and side views where the lean was computed."""

from __future__ import annotations

from service.api.operations.spinal_load.models import SpinalLoad
from service.api.operations.spinal_load.solving import lifter_body, solved
from service.charts.elements.layout import Sheet, paragraph, rule, sheets
from service.charts.posture.figure import panel_for
from service.charts.posture.side_view import side_view
from service.charts.posture.view import View
from service.charts.ratio_bars import BARS_WIDTH, Bar, BarGroup, compared_title, comparison_bars
from service.intervals import exactly
from service.mechanics.uncertainty.comparison import Comparison
from service.messages import message


def spinal_load_chart(request: SpinalLoad) -> list[Sheet]:
    """Load through the spine, moment and compression of each setup on sheets. Raises Refusal as the answer does."""
    body = lifter_body(request)
    first, *others = setups = solved(request, body)
    compared = [(setup.request.label, setup.against(first)) for setup in others]
    groups = [
        BarGroup(
            "load through the spine",
            [Bar(label, None if against.load is None else exactly(against.load)) for label, against in compared],
        ),
        BarGroup("moment", [_bar(label, against.moment) for label, against in compared]),
        BarGroup("compression", [_bar(label, against.compression) for label, against in compared]),
    ]
    panels = [panel_for(setup.request.label, body, setup.demand) for setup in setups if setup.demand]
    view = side_view(panels) if panels else View(0.0, [])
    bars = comparison_bars(f"At the lower back, against: {first.request.label}", groups)
    title = compared_title("Load of the spine", [setup.request.label for setup in setups])
    left_out = [setup.request.label for setup in setups if not setup.demand]
    if panels and left_out:
        said = message("setups_not_drawn", labels=left_out).text
        view = View(view.width, [*view.blocks, paragraph(said, "quiet", said, width=BARS_WIDTH)])
    return sheets(title, [[*view.blocks, rule(view.width), *bars]], max(view.width, BARS_WIDTH))


def _bar(label: str, comparison: Comparison) -> Bar:
    return Bar(label, None if comparison.ratio is None else comparison.ratio.one, comparison.difference)

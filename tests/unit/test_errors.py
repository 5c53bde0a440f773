"""Refusals carry facts, and pointers that lead back into the request."""

from __future__ import annotations

from service.errors import Fault, Refusal


def test_refusal_of_one_argument_points_to_it() -> None:
    assert Refusal.one("reps", "Too many.", "1 to 10").faults == (Fault("/reps", "Too many.", "1 to 10"),)


def test_refusal_of_the_whole_has_the_empty_pointer() -> None:
    assert Refusal.one("", "Not so.").faults == (Fault("", "Not so."),)


def test_path_of_arguments_may_be_named_as_one() -> None:
    assert Refusal.one("sets/0/load", "Nothing.").faults[0].pointer == "/sets/0/load"


def test_prefix_leads_from_further_out() -> None:
    inner = Refusal((Fault("/mass", "Too light.", "30 to 250 kg"), Fault("/stature", "Too tall.")))
    assert [fault.pointer for fault in inner.under("/lifter").faults] == ["/lifter/mass", "/lifter/stature"]
    assert [fault.allowed for fault in inner.under("/lifter").faults] == ["30 to 250 kg", None]


def test_argument_names_are_replaced_by_the_pointers_of_the_request() -> None:
    inner = Refusal((Fault("/reps", "Too many."), Fault("/load", "Too heavy.")))
    assert [fault.pointer for fault in inner.at({"/reps": "/set/reps"}).faults] == ["/set/reps", "/load"]


def test_text_of_a_refusal_names_every_fault() -> None:
    text = str(Refusal((Fault("/reps", "Too many."), Fault("/load", "Too heavy."))))
    assert text == "/reps: Too many.; /load: Too heavy."

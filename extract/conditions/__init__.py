"""Observed conditions and the provisions they go against, from everyday wording.

(Being written by a colleague, together with `shared/vocabulary/conditions/*.toml` and `tests/conditions/`:
the catalogue of phrases by section, the matcher, negation, compliance, confidence and runners-up.
The extraction of readings, amendments, places, corrected-on-site and the assembly of findings stays elsewhere
in `extract/`, and calls `find_conditions`.)

    find_conditions(text: str, *, catalogue) -> tuple[Condition, ...]

A `Condition` has: section, span (in the text), polarity ("violation" | "compliance" | "hypothetical" | "earlier"),
confidence 0..1, runners_up (sections), form_item, item (the thing named, or None), rule (phrase that matched),
questions (what this kind of violation needs asked), usual correction wording by section lives in the rules.
"""

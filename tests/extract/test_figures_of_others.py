"""Figures as people say them who were not heard while the rules were written: what is a reading, of which
unit, and what counts, limits, labels, earlier visits and corrections do beside it.

Wording: common practice, no source; limits, stages and sections: FDA Food Code 2022.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant, short, shorts

COUNTS = [
    "Fish fry tonight, plates for 90. Slaw 38.",
    "Fellowship hall, lasagna supper for 140. Slaw 38.",
    "They are cooking for 250 on Sunday. Slaw 38.",
    "The room seats 70, he tells me. Slaw 38.",
    "The wing has 48 residents, supper just starts. Slaw 38.",
    "Reunion tonight, 160 guests. Slaw 38.",
    "Day care, ages two to four. Slaw 38.",
    "Preschool, ages 3 and 4. Slaw 38.",
    "Toddler room, ages one to three. Slaw 38.",
    "Grades 1 to 3 come first. Slaw 38.",
    "The children eat at 11 so I am quick. Slaw 38.",
    "Lunch is at 12. Slaw 38.",
    "I put the probe in two, slaw 38.",
]

LIMITS = [
    "Slaw 38. 41's the limit.",
    "Slaw 38. 41 is the most.",
    "Slaw 38, and 41 it must be.",
    "Slaw 38. 41 it has to be.",
    "Slaw 38. Their sheet caps it at 41.",
    "Slaw 38. The card on the door of the cooler says below 41.",
    "Slaw 38. The plan by the phone asks for 41.",
    "Slaw 38. I told the boy over 41 it goes in the bin.",
    "On my last trip the slaw ran 47. Slaw 38.",
    "Slaw was 47 the visit before, and I wrote it. Slaw 38.",
]

DIFFERENCES = [
    ("Slaw 42. One degree. Leaving it.", ["42 cold_holding slaw"]),
    ("Slaw 43, two degrees. Leaving it.", ["43 cold_holding slaw"]),
    ("Chili 134. That's a degree. Leaving it.", ["134 hot_holding chili"]),
    ("Freezer. Fries. 2 degrees.", ["2 freezing fries"]),
]

LABELS = [
    ("Quat bucket, strip says 200. Jug's label, 150 to 400.", ["200 ppm sanitizer quat bucket"]),
    ("Quat bucket, strip says 200. Label: 150 to 400.", ["200 ppm sanitizer quat bucket"]),
    ("Temp label 163 on the plate.", ["163 utensil_surface plate"]),
    ("Dish machine. Its plate asks for 150 in the wash. The tank is 156.", ["156 machine_wash tank"]),
    (
        "Dish machine. Pressure 18 psi. My plate thermometer, one cycle through, 164.",
        ["18 psi machine_rinse -", "164 utensil_surface plate thermometer"],
    ),
]


@pytest.mark.parametrize("line", [*COUNTS, *LIMITS])
def test_a_figure_that_measures_nothing_is_no_reading(line: str) -> None:
    assert shorts(line) == ["38 cold_holding slaw"]


@pytest.mark.parametrize(("line", "expected"), [*DIFFERENCES, *LABELS])
def test_what_was_measured_stands_alone(line: str, expected: list[str]) -> None:
    assert shorts(line) == expected


SPOILED = [
    ("Steam table. Grits 121, hold on, the probe's on the pan. Grits 148.", ["148 hot_holding grits"]),
    ("Steam table. Grits 121, wait, the tip's against the side, 148.", ["148 hot_holding grits"]),
    ("Steam table. Grits 52, no, my finger was on the stem, 148.", ["148 hot_holding grits"]),
    ("Steam table. Grits 121. Oops, wrong button. 148.", ["148 hot_holding grits"]),
    ("Steam table. Grits 121. No, wait, that was the basket. Same pot, in the middle, 148.",
     ["148 hot_holding grits"]),
    ("Steam table. Grits 121. Hold on. Grits 148.", ["148 hot_holding grits"]),
    ("Steam table. Grits 121. Hold on. Hominy 148.", ["121 hot_holding grits", "148 hot_holding hominy"]),
    ("Steam table. Grits 121, no lid, hominy 148.", ["121 hot_holding grits", "148 hot_holding hominy"]),
    ("Steam table. Grits 14. Grits 140. One four zero.", ["140 hot_holding grits"]),
    ("Drawer. Ham 38, ham 39.", ["38 cold_holding ham", "39 cold_holding ham"]),
]  # fmt: skip


@pytest.mark.parametrize(("line", "expected"), SPOILED)
def test_a_spoiled_figure_falls_and_the_next_of_the_same_food_takes_its_place(
    line: str, expected: list[str]
) -> None:
    assert shorts(line) == expected


def test_a_figure_heard_anew_is_doubted_with_the_one_before() -> None:
    (reading,) = meant("Steam table. Grits 14. Grits 140. One four zero.").readings
    assert [(doubt.code, doubt.alternatives) for doubt in reading.doubts] == [("restated", ("14",))]


def test_a_time_corrected_over_an_excuse_is_the_time_of_its_figure() -> None:
    log = meant("Broth in the sink. 930 it was 135, at 1140, sorry, my glasses, at 1130 it was 68.")
    assert [(reading.value, reading.clock) for reading in log.readings] == [(135, "09:30"), (68, "11:30")]


LENGTHS = [
    ("Toaster on the counter. Legs three inches.", ["3 inch other toaster"], ["violates"]),
    ("Fryer stands six and a half off the floor.", ["6.5 inch other fryer"], ["meets"]),
    ("The oven is up five off the tile.", ["5 inch other oven"], ["violates"]),
    ("Rear door, three quarters of an inch of daylight under it.", ["0.75 inch other -"], ["none"]),
    ("Fill pipe three quarter inch, ends one inch over the rim.",
     ["0.75 inch other fill pipe", "1 inch other fill pipe"], ["none", "violates"]),
    ("Fill pipe 3 quarters of an inch, ends two inches over the rim.",
     ["0.75 inch other fill pipe", "2 inch other fill pipe"], ["none", "meets"]),
    ("The faucet clears by 4.", ["4 inch other faucet"], ["undetermined"]),
    ("Beans in sacks, two off the floor.", ["2 inch storage beans"], ["violates"]),
    ("Drain, the gap is an inch and a half, the pipe is one inch.",
     ["1.5 inch other gap", "1 inch other pipe"], ["violates", "none"]),
    ("Chicken legs 38.", ["38 cold_holding chicken legs"], ["meets"]),
]  # fmt: skip


@pytest.mark.parametrize(("line", "expected", "verdicts"), LENGTHS)
def test_lengths_of_equipment_doors_and_pipes(line: str, expected: list[str], verdicts: list[str]) -> None:
    readings = meant(line).readings
    assert [short(reading) for reading in readings] == expected
    assert [reading.check.verdict for reading in readings if reading.check is not None] == verdicts


SCALES = [
    (["Their thermometer only speaks Celsius. Bean salad 4, hummus 6."],
     ["4 degc cold_holding bean salad", "6 degc cold_holding hummus"]),
    (["Salad case. Bean salad 4, hummus 6.", "All Celsius, those."],
     ["4 degc cold_holding bean salad", "6 degc cold_holding hummus"]),
    (["Salad case. Bean salad 4. Those are in Celsius.", "Steam table, chili 150."],
     ["4 degc cold_holding bean salad", "150 hot_holding chili"]),
    (["Steam table. Chili, my other probe is on Celsius, 64. Grits 148."],
     ["64 degc hot_holding chili", "148 hot_holding grits"]),
    (["Bean salad 4, Celsius. Hummus 38."], ["4 degc cold_holding bean salad", "38 cold_holding hummus"]),
    (["The cook says Celsius is hard. Hummus 38."], ["38 cold_holding hummus"]),
]  # fmt: skip


@pytest.mark.parametrize(("lines", "expected"), SCALES)
def test_a_scale_said_once_holds_for_the_figures_it_was_said_for(
    lines: list[str], expected: list[str]
) -> None:
    assert [short(reading) for reading in meant(*lines).readings] == expected


SOLUTIONS = [
    (["Red bucket, quat 100. Label 200 to 400.", "When was it mixed? Nobody knows.", "Remixed. 300. Good."],
     [("100 ppm sanitizer red bucket", "violates"), ("300 ppm sanitizer red bucket", "meets")]),
    (["Bar sink. Chlorine 10.", "Fresh mix now, 100."],
     [("10 ppm sanitizer -", "violates"), ("100 ppm sanitizer -", "meets")]),
    (["Three bay sink, bleach 50, water 80. Litmus reads 8 and a half."],
     [("50 ppm sanitizer -", "violates"), ("80 sanitizer water", "violates"),
      ("8.5 ph sanitizer -", "violates")]),
    (["Three bay sink, bleach 50, water 95, pH paper says 7."],
     [("50 ppm sanitizer -", "meets"), ("95 sanitizer water", "meets"), ("7 ph sanitizer -", "meets")]),
    (["Quat 300. Label 200 to 400.", "Produce rinse, peracetic, 60 parts. Label allows 30 to 80."],
     [("300 ppm sanitizer -", "meets"), ("60 ppm other produce rinse", "meets")]),
    (["Quat 300. Label 200 to 400.", "Now the walk-in. 38."],
     [("300 ppm sanitizer -", "meets"), ("38 ambient -", "none")]),
    (["Bleach sink, water is 66, 50 ppm."],
     [("66 sanitizer water", "violates"), ("50 ppm sanitizer -", "violates")]),
    (["Final rinse 124, 50 ppm chlorine."],
     [("124 machine_rinse -", "meets"), ("50 ppm sanitizer -", "meets")]),
    (["Quat, sani bucket 200, 78 degrees. Label 200 to 400."],
     [("200 ppm sanitizer sani bucket", "meets"), ("78 sanitizer sani bucket", "meets")]),
    (["Bleach bucket, water at 105, 50."],
     [("105 sanitizer water", "meets"), ("50 ppm sanitizer bleach bucket", "meets")]),
    (["Bleach sink 50 ppm and the water is 66. They warmed it up, water's 104, 50 again."],
     [("50 ppm sanitizer -", "violates"), ("66 sanitizer water", "violates"),
      ("104 sanitizer water", "meets"), ("50 ppm sanitizer -", "meets")]),
    (["Bleach sink 50 ppm and the water is 66. They warmed it up, 50 again, water's 104."],
     [("50 ppm sanitizer -", "violates"), ("66 sanitizer water", "violates"),
      ("50 ppm sanitizer -", "meets"), ("104 sanitizer water", "meets")]),
    (["Salad bucket, chlorine 50, water's 104 and the pH strip says 7. Pot sink, 10. Ten, that's nothing."],
     [("50 ppm sanitizer salad bucket", "meets"), ("104 sanitizer water", "meets"),
      ("7 ph sanitizer -", "meets"), ("10 ppm sanitizer -", "violates")]),
    (["Iodine dip for the curd knives. 25.", "Whey drink, pH 4.4."],
     [("25 ppm sanitizer -", "meets"), ("4.4 ph other whey drink", "none")]),
    (["Gas bottle at 90 psi."], [("90 psi other gas bottle", "none")]),
    (["The compressor sits at 110 psi."], [("110 psi other compressor", "none")]),
    (["Dish machine. Final rinse 186, 18 pounds."],
     [("186 machine_rinse -", "meets"), ("18 psi machine_rinse -", "meets")]),
]  # fmt: skip


@pytest.mark.parametrize(("lines", "expected"), SOLUTIONS)
def test_solutions_mixed_again_and_pressures_of_other_things(
    lines: list[str], expected: list[tuple[str, str]]
) -> None:
    readings = meant(*lines).readings
    assert [(short(r), r.check.verdict if r.check else None) for r in readings] == expected


SPANS = [
    ("The fry cook threw up last night, 9 hours since the last of it.", ["9 hour other -"], ["violates"]),
    ("Server had diarrhea on Sunday, 40 hours since it stopped.", ["40 hour other -"], ["meets"]),
    ("The slicer runs since they opened, nobody has taken it apart, 5 and a half hours.",
     ["5.5 hour other slicer"], ["violates"]),
    ("Tenderizer, last cleaned three hours ago.", ["3 hour other tenderizer"], ["meets"]),
    ("The slicer is cleaned every 2 hours.", [], []),
    ("They have been open 6 hours.", [], []),
    ("Jerky, water activity 0.82. Their paper caps it at 0.85.", ["0.82 aw other jerky"], ["meets"]),
    ("Jerky, water activity 0.88. The permit on the wall says 0.85.", ["0.88 aw other jerky"], ["violates"]),
]  # fmt: skip


@pytest.mark.parametrize(("line", "expected", "verdicts"), SPANS)
def test_spans_of_people_and_machines_and_limits_of_a_permit(
    line: str, expected: list[str], verdicts: list[str]
) -> None:
    readings = meant(line).readings
    assert [short(reading) for reading in readings] == expected
    assert [reading.check.verdict for reading in readings if reading.check is not None] == verdicts


def test_the_hours_and_the_words_of_an_ill_worker_make_one_finding() -> None:
    found = meant(
        "The fry cook is here, vomiting last night. By his own telling 9 hours since the last of it."
    )
    assert [finding.provision for finding in found.findings] == ["2-201.13"]
    assert [doubt.code for doubt in found.readings[0].doubts] == ["hearsay"]


OTHERS = [
    ("They sell 60 dumplings a day. Dumplings on the steam table 141.", ["141 hot_holding dumplings"]),
    ("Steam table. Grits, first stab 141, second 147.", ["141 hot_holding grits", "147 hot_holding grits"]),
    ("Broth off the stove at 3, 141 then.", ["141 cooking broth"]),
    ("Steam table, grits from 4 30 PM, now 151.", ["151 hot_holding grits"]),
    ("Ham is 2 days old, tuna salad 9.", ["2 day storage ham", "9 day storage tuna salad"]),
    ("Outside gauge 34, mine on the yogurt 43.", ["34 ambient -", "43 cold_holding yogurt"]),
    ("My thermometer in boiling water 211. In ice 33.",
     ["211 thermometer_check my thermometer", "33 thermometer_check my thermometer"]),
]  # fmt: skip


@pytest.mark.parametrize(("line", "expected"), OTHERS)
def test_counts_times_and_days_beside_figures(line: str, expected: list[str]) -> None:
    assert shorts(line) == expected


def test_a_figure_that_may_be_another_is_doubted() -> None:
    (reading,) = meant("Bar sink, chlorine strip came up 100, maybe 150.").readings
    assert (reading.value, [(d.code, d.alternatives) for d in reading.doubts]) == (
        100,
        [("unsure", ("150",))],
    )


@pytest.mark.parametrize(
    ("line", "doubts"),
    [
        ("Steam table. Grits 148.", set()),
        ("Steam table. Kasza 148.", {"unlike_a_reading"}),
        ("Steam table. The kasza reads 148.", set()),
        ("Shelf by the door. Grits 9.", {"unlike_a_reading"}),
        ("Freezer. Grits 9.", set()),
    ],
)
def test_a_bare_figure_of_an_unknown_thing_or_of_an_unlikely_size_is_doubted(
    line: str, doubts: set[str]
) -> None:
    (reading,) = meant(line).readings
    assert {doubt.code for doubt in reading.doubts} & {"unlike_a_reading", "unit_assumed"} == doubts


WORDINGS = [
    ("Steam table. Grits at a buck forty-two.", ["142 hot_holding grits"]),
    ("Steam table. Grits thirteen nine.", ["139 hot_holding grits"]),
    ("Steam table. Grits 13 9, I wrote 139.", ["139 hot_holding grits"]),
    ("Half pan of rice 148.", ["148 hot_holding rice"]),
    ("Cooler 5: slaw 39.", ["39 cold_holding slaw"]),
    ("Slaw 44, that's three over.", ["44 cold_holding slaw"]),
    ("Steam table. Grits 115, 20 short.", ["115 hot_holding grits"]),
    ("Steam table. Grits dropped 15 degrees since I came, 128 now.", ["128 hot_holding grits"]),
    ("Grits 128 and they reheated it to 168.", ["128 hot_holding grits", "168 reheating grits"]),
    ("Grits have to be reheated to 165. They are at 128.", ["128 reheating grits"]),
    ("Grits reheated to 168, now 152 in the warmer.", ["168 reheating grits", "152 hot_holding grits"]),
]


@pytest.mark.parametrize(("line", "expected"), WORDINGS)
def test_figures_in_other_peoples_wordings(line: str, expected: list[str]) -> None:
    assert shorts(line) == expected


MORE = [
    ("Bar sink. Chlorine 50, 75 degrees.", ["50 ppm sanitizer -", "75 sanitizer water"]),
    ("They've got 8 on the grill, burgers 161.", ["161 cooking burgers"]),
    ("The line is 30 deep. Steam table, grits 148.", ["148 hot_holding grits"]),
    ("Steam table, grits one five five, that's five five.", ["155 hot_holding grits"]),
    ("All of it under 41. Slaw 38.", ["38 cold_holding slaw"]),
    ("Case count 22. Slaw 38.", ["38 cold_holding slaw"]),
]


@pytest.mark.parametrize(("line", "expected"), MORE)
def test_further_counts_and_figures_said_twice(line: str, expected: list[str]) -> None:
    assert shorts(line) == expected


def test_a_drawer_has_its_number_and_its_own_figure() -> None:
    readings = meant("Drawer one 39, drawer two 42, drawer three 47.").readings
    assert [reading.value for reading in readings] == [39, 42, 47]


def test_what_a_hand_sink_tops_out_at_was_measured() -> None:
    assert shorts("The hand sink tops out at 79.") == ["79 handwashing hand sink"]
    assert shorts("Their plan tops out at 70. Slaw 38.") == ["38 cold_holding slaw"]


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        ("Air gap half an inch.", "violates"),  # never less than one: 5-202.13
        ("Air gap 2 inches.", "undetermined"),  # twice the inlet, and nobody told how wide that is
        ("Air gap at the prep sink an inch and a half, pipe's one inch.", "violates"),
        ("Shell eggs delivered, truck air 48.", "violates"),  # 45 around them: 3-202.11(C)
        ("Shell eggs delivered, truck air 42.", "meets"),
        ("Shell eggs in the reach in, air's 50.", "violates"),  # 3-501.16(B)
        ("Eggs and milk in the reach in, air's 50.", "none"),
        ("Scrambled eggs off the flat top 150.", "undetermined"),  # to order 145, pooled 155: 3-401.11(A)
        ("Pooled scrambled eggs off the flat top 150.", "violates"),
        ("Salmon was minus 31 for 15 hours. Freezer, minus 8 on the gauge.", "none"),
    ],
)
def test_what_a_figure_is_held_against(said: str, verdict: str) -> None:
    """Sections and figures: FDA Food Code 2022."""
    reading = next(one for one in reversed(meant(said).readings) if "pipe" not in (one.item or ""))
    assert reading.check is not None
    assert reading.check.verdict == verdict

"""Real people: nothing about them is impossible, and hardly anything unusual.

`reference/ansur2_sample_people.csv` holds 100 men and 100 women of the survey ANSUR II, with its source on top.
"""

import csv
from pathlib import Path

from orders.reckon import reckon
from tests.orders.entries import catalogue, entry_with

TARN = catalogue()
PEOPLE_CSV = Path(__file__).with_name("reference") / "ansur2_sample_people.csv"


def people() -> list[dict]:
    lines = PEOPLE_CSV.read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def entry_of(person: dict) -> dict:
    """Length as taken is mid-patella less outer malleolus height; measured twice, all at the stated defaults."""
    length = int(person["kneeheightmidpatella"]) - int(person["lateralmalleolusheight"])
    girth = person["calfcircumference"]
    known = {"k_level": "K3", "heavy_wear": False, "needs_help_to_don": False, "age_band": "adult"}
    known |= {"stature": f"{person['stature']} mm", "body_mass_kg": person["weightkg"], "sex": person["sex"]}
    return entry_with(
        {
            "length": [f"{length} mm"] * 2,
            "girth": [f"{girth} mm"] * 2,
            "person": known,
            "reference": person["person"],
        }
    )


def test_two_hundred_people_raise_no_stop_and_hardly_an_explain():
    results = {person["person"]: reckon(entry_of(person), TARN) for person in people()}

    levels = {who: {flag["level"] for flag in result["flags"]} for who, result in results.items()}
    stopped = [who for who, found in levels.items() if "stop" in found]
    explained = [who for who, found in levels.items() if "explain" in found]
    assert len(results) == 200
    assert stopped == []
    assert len(explained) <= 2


def test_nine_in_ten_calves_lie_in_the_suggested_range():
    """ANSUR II: the range holds 90 % of all 6,068 by the normal law; of 200 drawn, 180 ± 4.2 (binomial)."""
    within = 0
    for person in people():
        entry = entry_of(person) | {"other_leg": "below_knee", "girth_from": "chosen"}
        suggestion = reckon(entry, TARN)["suggestions"]["girth"]
        within += suggestion["least_mm"] <= int(person["calfcircumference"]) <= suggestion["most_mm"]

    # 3 standard deviations either way
    assert 167 <= within <= 193


def test_an_adult_s_shell_weighs_what_it_should():
    # 0.4 to 1.1 kg with the demo's two walls: common practice, no source
    by_wall = {"thin": [], "thick": []}
    for person in people():
        for wall, masses in by_wall.items():
            entry = entry_of(person)
            masses.append(reckon(entry | {"shell": entry["shell"] | {"wall": wall}}, TARN)["mass_g"])

    thin, thick = (sorted(masses) for masses in by_wall.values())
    assert 400 <= thin[100] <= 1100
    assert 400 <= thick[100] <= 1100
    assert thin[0] > 300
    assert thick[-1] < 1250

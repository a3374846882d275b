import pytest

from capture.card_form import CardForm
from tests import factories

pytestmark = pytest.mark.django_db
POINT = {"what": "charging port", "side": "rear", "below_apex": "75 mm", "stays_open": True}


def form(clinician, kind="knee", card=None, **given) -> CardForm:
    data = {"label": "Ours", "allows_shell": "unknown"} | {
        key.replace("__", "."): v for key, v in given.items()
    }
    return CardForm(kind, clinician.organisation_id, card, data)


def test_only_what_was_given_is_held(clinician):
    asked = form(clinician, knee__named="polycentric", knee__max_flexion_deg="140")

    assert asked.is_valid(), asked.errors
    assert asked.holds == {"knee.named": "polycentric", "knee.max_flexion_deg": "140"}


@pytest.mark.parametrize(
    ("typed", "kept"),
    [("108", "108 mm"), ("108 mm", "108 mm"), ("4 1/4 in", "4 1/4 in"), ("10.8 cm", "10.8 cm")],
)
def test_a_length_is_kept_as_typed_with_its_unit(clinician, typed, kept):
    asked = form(clinician, knee__hardware_length=typed)

    assert asked.is_valid()
    assert asked.holds["knee.hardware_length"] == kept


@pytest.mark.parametrize(("typed", "kept"), [("135.5", "135.5"), ("135,5", "135.5"), (" 135,0 ", "135")])
def test_an_angle_takes_point_and_comma(clinician, typed, kept):
    asked = form(clinician, knee__max_flexion_deg=typed)

    assert asked.is_valid(), asked.errors
    assert asked.holds["knee.max_flexion_deg"] == kept


@pytest.mark.parametrize(("typed", "kept"), [("-20", "-20 mm"), ("−1 in", "-1 in"), ("20", "20 mm")])
def test_an_ankle_axis_may_lie_below_the_rim(clinician, typed, kept):
    assert form(clinician, "foot", foot__axis_above_rim=typed).is_valid()
    asked = form(clinician, "foot", foot__axis_above_rim=typed)
    asked.is_valid()

    assert asked.holds == {"foot.axis_above_rim": kept}


@pytest.mark.parametrize(
    ("given", "field", "says"),
    [
        ({"label": "  "}, "label", "required"),
        ({"label": "fluid\u202eknee"}, "label", "be seen. Type it anew."),
        ({"point-1-what": "po\u2069rt"}, "point-1-what", "be seen. Type it anew."),
        ({"allows_shell": "perhaps"}, "allows_shell", "perhaps"),
        ({"knee__hardware_length": "10 or so"}, "knee.hardware_length", "10 or so"),
        # read as 10.8 mm, which no hardware length is: in cm it would be one
        ({"knee__hardware_length": "10.8"}, "knee.hardware_length", "10.8 cm"),
        ({"knee__named": "hinge"}, "knee.named", "hinge"),
        ({"knee__max_flexion_deg": "500"}, "knee.max_flexion_deg", "180"),
        ({"point-1-below": "75"}, "point-1-what", "Say what it is"),
    ],
)
def test_what_is_wrong_is_told_at_its_field(clinician, given, field, says):
    asked = form(clinician, **given)

    assert not asked.is_valid()
    assert says in str(asked.errors[field])


def test_a_minus_means_nothing_where_a_length_has_one_way_only(clinician):
    assert not form(clinician, knee__width="-20").is_valid()


def test_what_must_stay_reachable_is_kept_as_the_sheet_keeps_it(clinician):
    rows = {
        f"point-2-{name}": value
        for name, value in zip(
            ("what", "side", "below", "open"), ("charging port", "rear", "75", "on"), strict=True
        )
    }
    asked = form(clinician, **rows)

    assert asked.is_valid()
    assert asked.holds == {"service_points": [POINT]}


def test_a_foot_has_no_service_points_counted_from_the_apex(clinician):
    assert form(clinician, "foot").point_rows == []


def test_a_card_is_shown_as_it_was_kept(clinician):
    holds = {"knee.named": "polycentric", "knee.hardware_length": "108 mm", "service_points": [POINT]}
    card = factories.card(clinician, "Ours", holds=holds, allows_shell="no")
    shown = CardForm("knee", clinician.organisation_id, card)

    again = CardForm(
        "knee", clinician.organisation_id, card, {name: shown[name].value() or "" for name in shown.fields}
    )

    assert again.is_valid(), again.errors
    assert again.holds == holds
    assert (again.cleaned_data["label"], again.cleaned_data["allows_shell"]) == ("Ours", "no")


def test_a_name_is_given_once_to_a_kind_in_a_clinic(clinician, other_clinician):
    card = factories.card(clinician, "Ours")

    assert "label" in form(clinician).errors
    assert not form(clinician, card=card).errors
    assert not form(clinician, "foot").errors
    assert not form(other_clinician).errors

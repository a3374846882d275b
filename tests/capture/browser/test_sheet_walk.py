"""The measuring sheet: what is asked, what is understood, and that what is typed stays."""

import pytest

from capture.sheet_fields import BY_KEY


def test_next_follows_the_plain_case_and_names_what_comes(phone):
    order = [
        "side", "knee.pivots_seen", "foot.profile", "foot.ankle", "marks", "length", "girth", "workshop",
        "shell.rear", "photos",
    ]  # fmt: skip

    def walk(one):
        one.to_check()
        return [(key, words) for key, words in one.pressed if key]

    briefs = [BY_KEY[key].brief for key in order[1:]] + ["check"]
    assert phone(walk) == [(key, f"Next: {brief}") for key, brief in zip(order, briefs, strict=True)]


def test_next_leads_to_what_is_still_needed(phone):
    def walk(one):
        one.to_check()
        base = one.page.url.rsplit("/", 1)[0]
        one.page.goto(f"{base}/girth")
        one.at("girth")
        answered = one.page.inner_text(".foot .next").strip()
        one.page.goto(f"{base}/knee.pivots_seen")
        one.at("knee.pivots_seen")
        one.choose("Several pins")
        one.painted()
        here = one.page.inner_text(".foot .next").strip()
        one.page.goto(f"{base}/shell.rear")
        one.at("shell.rear")
        return answered, here, one.page.inner_text(".foot .next").strip()

    # several pins want their name and a hardware length; from beyond them the way leads back
    assert phone(walk) == ("Next: check", "Next: knee's kind", "Next: knee's kind")


def test_two_readings_are_compared(phone):
    def walk(one):
        one.to_length()
        one.type("41.9")
        one.page.click(".again")
        words = []
        for second in ("42.1", "43.9"):
            one.type(second)
            words.append(one.page.inner_text(".compare"))
        one.page.click(".again")
        one.type("42")
        return [*words, one.page.inner_text(".compare")]

    assert phone(walk) == [
        "2 mm apart: the mean of both counts.",
        "20 mm apart, up to 8 is usual: read it a third time, and the middle one counts.",
        "20 mm from least to most: the middle one counts.",
    ]


def test_a_check_speaks_while_the_tape_is_in_hand(phone):
    def walk(one):
        one.to_length()
        one.type("39.4")
        one.next()
        one.at("girth")
        one.page.click("input.typed")
        one.page.keyboard.type("5")
        one.painted()
        begun = one.page.inner_text(".field-flags")
        one.page.keyboard.type("2")
        one.painted()
        said = one.page.inner_text(".field-flags")
        one.page.click(".field-flags a")
        one.at("check")
        one.until("document.activeElement.matches('.reason')")  # once all above it stands
        return begun, said, one.page.evaluate("document.activeElement.className")

    begun, said, focused = phone(walk)

    assert begun == ""  # 5 cm is no girth, but 52 cm begins so
    assert "520 mm is unusual" in said.replace("\u00a0", " ")
    assert focused == "input reason"


def test_keypad_is_whole_while_readings_are_typed(phone):
    """On the narrow side of today's phones; this machine's letters are wider than a phone's."""
    hidden = """() => document.querySelector(".keypad").getBoundingClientRect().bottom
      - document.querySelector(".foot").getBoundingClientRect().top"""

    def walk(one):
        one.to_length()
        found = [one.page.evaluate(hidden)]
        one.type("41.9")
        found.append(one.page.evaluate(hidden))
        one.page.click(".again")
        one.type("42.1")
        found.append(one.page.evaluate(hidden))
        return found

    assert all(below <= 0 for below in phone(walk))


def test_any_field_is_two_taps_away_and_what_is_missing_is_said(phone):
    def walk(one):
        one.to_length()
        one.page.click(".ruler button:has-text('shell')")
        says = one.page.inner_text(".part[open] summary").split()
        missing = one.page.locator(".part[open] .missing").count()
        one.page.click(".part-row:has-text('Wall')")
        one.at("shell.wall")
        one.page.click(".ruler button:has-text('leg')")
        one.page.keyboard.press("Escape")
        one.page.wait_for_selector("dialog", state="detached")
        focused = one.page.evaluate("document.activeElement.textContent")
        one.page.click(".ruler button:has-text('leg')")
        one.page.click(".parts-panel a:has-text('Check and send')")
        one.at("check")
        return says, missing, focused

    # the workshop and the rear; its other options start at the workshop's usual ones
    assert phone(walk) == (["shell", "2", "to", "answer"], 2, "leg, done")


def test_marks_are_made_before_anything_is_measured(phone):
    def walk(one):
        one.begin()
        for key, label in (
            ("side", "Left"), ("knee.pivots_seen", "One pin"), ("foot.profile", "Only"), ("foot.ankle", "Solid"),
        ):  # fmt: skip
            one.at(key)
            one.choose(label)
            one.next()
        one.at("marks")
        sound = one.page.locator(".marks strong").all_inner_texts()
        one.page.wait_for_selector(".marks svg .fg-mark")
        drawn = one.page.locator(".marks svg .fg-mark").count()
        here = one.page.url
        one.page.goto(here.replace("marks", "other_leg"))
        one.at("other_leg")
        one.choose("above the knee")
        one.page.goto(here)
        one.at("marks")
        return sound, drawn, one.page.locator(".marks strong").all_inner_texts()

    # a dot for the girth only where there is a calf to measure
    assert phone(walk) == (["1 Apex", "2 Rim", "3 Widest calf"], 3, ["1 Apex", "2 Rim"])


def test_drawing_opens_large_grows_and_says_the_same_in_words(phone):
    def walk(one):
        one.to_length()
        one.page.click(".enlarge")
        before = one.page.evaluate("document.querySelector('.stage svg').clientWidth")
        one.page.click("button[aria-label='Larger']")
        after = one.page.evaluate("document.querySelector('.stage svg').clientWidth")
        words = one.page.inner_text(".enlarged-words")
        one.page.keyboard.press("Escape")
        one.page.wait_for_selector("dialog", state="detached")
        return after > before, words, one.page.locator("dialog").count()

    grown, words, left = phone(walk)

    assert grown
    assert left == 0
    for said in (BY_KEY["length"].where, BY_KEY["length"].easy_mistake, "a tape runs straight down"):
        assert said in words


def test_shell_stands_to_scale_as_far_as_it_is_known(phone):
    """394 less 12.7 for a solid ankle is 381.3; in pencil, and without straps, until all is known."""

    def walk(one):
        def dims():
            one.page.click(".enlarge")
            one.page.click(".enlarged label:has-text('To scale')")
            kinds = one.page.eval_on_selector_all(
                ".stage .fg-dimension", "(all) => all.map((one) => one.dataset.of).sort()"
            )
            pencil = one.page.locator(".stage .fg-pencilled").count() > 0
            one.page.keyboard.press("Escape")
            one.page.wait_for_selector("dialog", state="detached")
            return kinds, pencil

        one.to_length()
        one.type("39.4")
        found = [dims()]
        one.next()
        one.at("girth")
        one.type("38.5")
        one.next()
        one.at("workshop")
        one.choose("Tarn Street")
        return [*found, dims()]

    straps = ["lower_strap", "strap_spacing", "upper_strap"]
    assert phone(walk) == [
        (["finished_length", "gap"], True),
        (sorted(["finished_length", "gap", "girth", *straps]), False),
    ]


def test_phone_keyboard_takes_the_place_of_the_keypad(phone):
    def walk(one):
        one.to_length()
        one.page.click(".own-keys")
        mode = one.page.evaluate("document.activeElement.inputMode")
        keys = one.page.locator(".keypad").count()
        one.page.keyboard.type("41.9")
        means = one.page.inner_text(".means .mm")
        one.page.click("text=Back to the digits")
        return mode, keys, means, one.page.locator(".keypad").count(), one.page.input_value("input.typed")

    assert phone(walk) == ("text", 0, "419.0 mm", 1, "41.9")


def test_several_pins_ask_for_name_and_hardware_length(phone):
    def walk(one):
        one.begin()
        one.choose("Left")
        one.next()
        one.at("knee.pivots_seen")
        one.choose("Several")
        one.next()
        one.at("knee.named")
        one.choose("Polycentric")
        one.next()
        one.at("knee.hardware_length")
        return one.page.inner_text("h1")

    assert phone(walk) == "Hardware length"


def test_next_without_an_answer_says_so_and_stays(phone):
    def walk(one):
        one.begin()
        one.next()
        said = one.page.inner_text("#choice-says")
        one.choose("Left")
        one.next()
        one.at("knee.pivots_seen")
        return said

    assert phone(walk) == "Choose one of these first."


@pytest.mark.parametrize(
    ("unit", "text", "means"),
    [("in", "16 1/2", "419.1 mm"), ("cm", "39.4", "394.0 mm"), ("mm", "394,5", "394.5 mm")],
)
def test_typing_shows_what_was_understood(phone, unit, text, means):
    def walk(one):
        one.to_length()
        one.page.click(f".unit-option:has-text('{unit}')")
        one.type(text)
        return one.page.inner_text(".means .mm"), one.page.inner_text(".means .plus-minus")

    assert phone(walk) == (means, "± 8")


def test_what_follows_is_said_in_words_that_add_up(phone):
    def walk(one):
        one.to_length()
        one.type("16 1/2 in")
        return one.page.inner_text(".follow").replace("\u00a0", " ")

    assert phone(walk) == "419 taken, 13 left open: made 406 mm long"


def test_own_keys_write_fractions_in_the_order_of_the_tape(phone):
    def walk(one):
        one.to_length()
        one.page.click(".unit-option:has-text('in')")
        for key in ("1", "6", "1/2", "+1/16"):
            one.page.click(f".key[aria-label='{key}']")
        typed = one.page.input_value("input.typed")
        one.page.click(".key[aria-label='Take back the last key']")
        return typed, one.page.input_value("input.typed")

    assert phone(walk) == ("16 9/16", "16")


def test_wrong_unit_is_asked_and_an_offer_settles_it(phone):
    def walk(one):
        one.to_length()
        one.page.click(".unit-option:has-text('mm')")
        one.type("39.4")
        offers = one.page.locator(".offer").all_inner_texts()
        means = one.page.inner_text(".means")
        one.page.click(".offer:has-text('39.4 cm')")
        one.page.wait_for_selector(".offer", state="detached")
        return offers, means, one.page.input_value("input.typed"), one.page.inner_text(".means .mm")

    offers, means, typed, settled = phone(walk)

    assert offers == ["39.4 cm", "39.4 mm"]
    assert means == "", "nothing is taken before it is settled"
    assert (typed, settled) == ("39.4 cm", "394.0 mm")


def test_unreadable_text_is_told_at_the_field_and_stays(phone):
    def walk(one):
        one.to_length()
        one.type("1,234")
        one.next()
        said = one.page.inner_text(".reading-says .says")
        invalid = one.page.get_attribute("input.typed", "aria-invalid")
        one.page.reload()
        one.at("length")
        return said, invalid, one.page.input_value("input.typed")

    said, invalid, typed = phone(walk)

    assert "1,234" in said
    assert invalid == "true"
    assert typed == "1,234"


def test_reload_comes_back_to_the_same_field_and_text(phone):
    def walk(one):
        one.to_length()
        one.type("39.")
        one.page.reload()
        one.at("length")
        one.page.wait_for_selector("input.typed")
        return one.page.input_value("input.typed"), one.page.inner_text(".whose")

    typed, whose = phone(walk)

    assert typed == "39."
    assert whose == "NF-0147 · left"


def test_a_key_in_the_last_moment_of_a_page_is_kept(phone):
    """The page goes in the very task in which the key came; each round has another text."""
    key_and_away = """(text) => {
      const input = document.querySelector("input.typed");
      input.value = text;
      input.dispatchEvent(new Event("input", { bubbles: true }));
      location.reload();
    }"""

    def walk(one):
        one.to_length()
        seen = []
        for text in ("3", "39", "39.", "39.4", "39.45", "39.5"):
            with one.page.expect_navigation():
                one.page.evaluate(key_and_away, text)
            one.at("length")
            one.page.wait_for_selector("input.typed")
            seen.append(one.page.input_value("input.typed"))
        return seen

    assert phone(walk) == ["3", "39", "39.", "39.4", "39.45", "39.5"]


def test_a_write_that_the_database_drops_with_the_page_is_not_lost(phone):
    """Browsers may drop a write that was only just begun; here every one is, from the key to the reload."""
    drop_writes = """() => {
      const put = IDBObjectStore.prototype.put;
      IDBObjectStore.prototype.put = function (...given) {
        const request = put.apply(this, given);
        this.transaction.abort();
        return request;
      };
    }"""
    last_words = "Object.keys(localStorage).filter((key) => key.startsWith('shankline.last/')).length"

    def walk(one):
        one.to_length()
        one.type("39")
        one.page.evaluate(drop_writes)
        one.type("39.4")
        with one.page.expect_navigation():
            one.page.evaluate("location.reload()")
        one.at("length")
        one.page.wait_for_selector("input.typed")
        after = one.page.input_value("input.typed")
        one.until(f"{last_words} === 0")
        one.page.reload()
        one.at("length")
        return after, one.page.input_value("input.typed")

    assert phone(walk) == ("39.4", "39.4")


def test_a_dead_page_comes_back_from_the_list(phone):
    def walk(one):
        one.to_length()
        one.type("39.4")
        one.page.goto("about:blank")
        one.open()
        one.page.click("a.row:has-text('NF-0147')")
        one.at("length")
        return one.page.input_value("input.typed")

    assert phone(walk) == "39.4"


def test_switching_the_unit_keeps_what_was_typed_and_what_it_means(phone):
    def walk(one):
        one.to_length()
        one.type("39.4")
        one.next()
        one.at("girth")
        one.type("15")
        one.page.click(".unit-option:has-text('in')")
        girth = one.page.input_value("input.typed"), one.page.inner_text(".means .mm")
        one.page.click("a.back")
        one.at("length")
        return girth, (one.page.input_value("input.typed"), one.page.inner_text(".means .mm"))

    girth, length = phone(walk)

    assert girth == ("15", "381.0 mm")
    assert length == ("39.4 cm", "394.0 mm")


def begin_the_other_leg(one, check: str) -> None:
    """From the left leg's check, at this address, to the right one."""
    one.page.goto(check.replace("check", "other_leg"))
    one.at("other_leg")
    one.choose("Prosthesis above the knee")
    one.page.goto(check)
    one.page.click("text=Measure the other leg's shell too")
    one.at("knee.pivots_seen")


def test_switching_the_unit_changes_nothing_of_the_other_leg(phone):
    def walk(one):
        one.to_check(length="39.4")
        check = one.page.url
        begin_the_other_leg(one, check)
        one.page.goto(check.replace("check", "length"))
        one.at("length")
        one.page.click(".unit-option:has-text('in')")
        one.page.click(".other-leg")
        one.until("document.querySelector('.other-leg').textContent.includes('right')")
        return one.page.input_value("input.typed"), one.page.inner_text(".means .mm")

    assert phone(walk) == ("39.4 cm", "394.0 mm")


# A reading is typed, and what is tapped next doesn't take the cursor out of its box, as on some phones.
TYPED_AND_TAPPED = """async ([text, tapped]) => {
  const box = document.querySelector("input.typed");
  box.blur();
  box.value = text;
  box.dispatchEvent(new Event("input"));
  document.querySelector(tapped).click();
}"""
HAND_RESTS_MS = 1200


def test_what_was_only_begun_is_not_typed_into_the_other_leg(phone):
    def walk(one):
        one.to_check()
        check = one.page.url
        begin_the_other_leg(one, check)
        one.page.goto(check.replace("check", "length"))
        one.at("length")
        one.page.type("input.typed", "4")
        one.page.evaluate("document.querySelector('.other-leg').click()")
        one.until("document.querySelector('.other-leg').textContent.includes('right')")
        one.page.wait_for_timeout(HAND_RESTS_MS)
        one.page.reload()
        one.at("length")
        return one.page.inner_text(".whose"), one.page.input_value("input.typed")

    whose, left = phone(walk)

    assert "· left" in whose
    assert left == "39.4"


def test_what_was_only_begun_in_another_unit_is_not_typed_anew(phone):
    def walk(one):
        one.to_length()
        one.page.evaluate(TYPED_AND_TAPPED, ["4", ".unit-option input[value=mm]"])
        one.page.fill("input.typed", "394")
        one.page.wait_for_timeout(HAND_RESTS_MS)
        one.page.reload()
        one.at("length")
        return one.page.input_value("input.typed")

    assert phone(walk) == "394"


def test_a_minus_that_is_typed_is_shown_as_below(phone):
    def walk(one):
        one.to_length()
        one.page.goto(one.page.url.replace("length", "foot.axis_above_rim"))
        one.at("foot.axis_above_rim")
        one.type("\u221212 mm")
        pressed = one.page.get_attribute("button.below", "aria-pressed")
        one.page.click("button.below")
        one.painted()
        return (
            pressed,
            one.page.input_value("input.typed"),
            one.page.get_attribute("button.below", "aria-pressed"),
        )

    assert phone(walk) == ("true", "12 mm", "false")


def test_second_reading_shrinks_the_first_to_a_line(phone):
    def walk(one):
        one.to_length()
        one.type("39.4")
        one.page.click(".again")
        one.page.type("input.typed", "39.6")
        one.painted()
        before = one.page.inner_text(".before .was")
        follow = one.page.inner_text(".follow").replace("\u00a0", " ")
        return before, follow

    before, follow = phone(walk)

    assert before == "39.4 cm · 394.0 mm"
    assert follow == "395 taken, 13 left open: made 382 mm long"


def test_second_route_is_offered_beside_the_reading(phone):
    def walk(one):
        one.to_length()
        one.type("39.4")
        one.page.click(".other-way")
        one.at("second_route.apex_to_floor")
        one.type("49.0")
        one.next()
        one.at("second_route.rim_to_floor")
        one.type("9.5")
        follow = one.page.inner_text(".follow").replace("\u00a0", " ")
        one.next()
        one.at("girth")
        return follow

    assert phone(walk) == "490 less 95 is 395: agrees, 1 mm apart"


def test_where_there_is_no_calf_a_girth_is_suggested_until_one_is_typed(phone):
    def walk(one):
        one.to_length()

        def answer(key, how):
            one.page.goto(f"{one.page.url.rsplit('/', 1)[0]}/{key}")
            one.at(key)
            how()

        answer("other_leg", lambda: one.choose("Prosthesis above the knee"))
        answer("girth_from", lambda: one.choose("Chosen with the person"))
        answer("person.stature", lambda: one.type("178"))
        answer("person.sex", lambda: one.page.click("label.choice:has(input[value=male])"))
        answer("person.body_mass_kg", lambda: one.page.fill("#plain", "80"))
        answer("girth", lambda: one.page.wait_for_selector(".follow:not(:empty)"))
        suggested = one.page.inner_text(".follow")
        one.type("37")
        return suggested, one.page.inner_text(".follow")

    suggested, typed = phone(walk)

    # the survey's line for men, 1.7337 · 80 + 243.99 = 382.7, and 1.645 · 16.58 = 27.3 either way
    assert suggested == "Likely, by the survey ANSUR II: 383 mm, nine in ten 355 to 410 mm"
    assert "survey" not in typed


def test_on_a_low_screen_the_second_route_comes_after_next(phone):
    def walk(one):
        one.to_length()
        one.type("39.4")
        shown = one.page.is_visible(".other-way")
        following = one.page.inner_text(".foot .next").strip()
        one.next()
        one.at("second_route.apex_to_floor")
        one.next()
        one.at("second_route.rim_to_floor")
        one.next()
        one.at("girth")
        return shown, following

    assert phone(walk, width=375, height=667) == (False, "Next: other way")


def test_what_is_taken_as_given_can_be_changed(phone):
    def walk(one):
        one.to_length()
        one.take_up("knee", "Pins on one side", "knee.pivots_seen")
        one.page.click(".given summary")
        one.page.click(".given-row:has-text('What controls it') a")
        one.at("knee.control")
        chosen = one.page.input_value("input:checked")
        one.choose("Fluid")
        one.next()
        one.at("knee.hardware_length")
        return chosen

    assert phone(walk) == "mechanical"


def test_a_foot_s_mechanism_too_wide_for_the_shell_is_told_where_it_is_measured(phone):
    """It is folded away until somebody measures it, and there only where a mechanism stands above the rim."""

    def walk(one):
        one.to_length()
        one.type("39.4")
        one.next()
        one.at("girth")
        one.type("38.5")
        one.next()
        one.at("workshop")
        one.choose("Tarn Street")
        one.page.click(".ruler button:has-text('foot')")
        low = one.page.locator(".part-row:has-text('Foot mechanism')").count()
        one.page.click(".part-row:has-text('What stands above the rim')")
        one.at("foot.profile")
        one.choose("high foot")
        one.next()
        one.at("foot.hardware_above_rim")
        one.type("7.6")
        one.take_up("foot", "Foot mechanism, width", "foot.width")
        one.type("14")
        alone = one.page.inner_text(".field-flags")
        one.take_up("foot", "Foot mechanism, depth", "foot.depth")
        one.type("6.1")
        return low, alone, one.page.inner_text(".field-flags")

    low, alone, both = phone(walk)

    assert (low, alone) == (0, "")
    assert "The mechanism is larger than the inside" in both


@pytest.mark.parametrize("width", [320, 412, 1280])
def test_nothing_is_wider_than_the_screen(phone, width):
    def walk(one):
        wide = []

        def measure(name):
            if one.page.evaluate("document.documentElement.scrollWidth > innerWidth"):
                wide.append(name)

        one.to_length()
        one.type("a reading of sixty-four characters that is no length at all, no")
        one.next()
        measure("length")
        one.type("39.4")
        measure("length understood")
        one.next()
        one.at("girth")
        one.type("38.5")
        one.page.click(".given summary")
        measure("girth")
        one.take_up("shell", "Which workshop", "workshop")
        measure("workshop")
        one.page.goto(one.page.url.replace("workshop", "check"))
        one.at("check")
        measure("check")
        one.page.click(".whose a")
        one.page.wait_for_selector("main[data-view=visits]")
        measure("visits")
        return wide

    assert phone(walk, width=width) == []


def test_where_a_strap_lies_is_told_once_its_workshop_is_chosen(phone):
    def walk(one):
        one.to_check()
        base = one.page.url.rsplit("/", 1)[0]
        one.page.goto(f"{base}/knee.pivots_seen")
        one.at("knee.pivots_seen")
        one.choose("Several")
        one.page.goto(f"{base}/knee.hardware_length")
        one.at("knee.hardware_length")
        one.type("10.8 cm")
        return one.page.inner_text(".hand")

    def before(one):
        one.begin()
        one.choose("Left")
        one.next()
        one.at("knee.pivots_seen")
        one.choose("Several")
        one.next()
        one.at("knee.named")
        one.choose("Polycentric")
        one.next()
        one.at("knee.hardware_length")
        one.type("10.8 cm")
        return one.page.inner_text(".hand")

    # 108 mm, 10 clear and half a strap of 25: 130.5 mm at this workshop; another's straps are narrower
    assert "131 mm" in phone(walk)
    assert "strap" not in phone(before).lower()


def test_over_plain_http_the_page_says_that_nothing_can_be_kept(phone):
    """A name of a local network is no secure context (W3C, Secure Contexts): no hashing, no worker."""

    def walk(one):
        one.page.goto("http://phone.invalid/visits/")
        return one.page.inner_text("[role=alert]"), one.page.evaluate(
            "[isSecureContext, typeof crypto.subtle]"
        )

    said, context = phone(walk)

    assert "secure connection (https)" in said
    assert context == [False, "undefined"]

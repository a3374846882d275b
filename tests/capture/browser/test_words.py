"""Figures and times in the page's language, written by hand: what a browser's own formatters give is the measure."""

import pytest

# The page's module and the browser's formatter, of the same figures and times.
WRITTEN = """async () => {
  const { inMm, sheet, timeOfDay } = await import("/static/testbuild/js/sheet/words.js");
  const { language } = sheet;
  const to = (decimals) => ({ minimumFractionDigits: decimals, maximumFractionDigits: decimals, useGrouping: false });
  const number = (decimals) => new Intl.NumberFormat(language, to(decimals));
  const time = new Intl.DateTimeFormat(language, { hour: "2-digit", minute: "2-digit", hourCycle: "h23" });
  const figures = [0, 0.04, 0.05, 2.25, 9.95, 19.05, 393.7, 1234.5, -12, -0.34];
  const times = ["00:00", "00:07", "09:05", "12:00", "23:59"].map((at) => new Date(`2026-02-03T${at}:30`));
  return {
    ours: [figures.map((mm) => [inMm(mm), inMm(mm, 1)]), times.map(timeOfDay)],
    browsers: [
      figures.map((mm) => [0, 1].map((decimals) => number(decimals).format(mm).replace("-", "−").replace(/^−0$/, "0"))),
      times.map((date) => time.format(date)),
    ],
  };
}"""


@pytest.mark.parametrize("language", ["en", "es", "de", "fr"])
def test_figures_and_times_are_as_the_browser_writes_them(phone, language):
    def walk(one):
        one.open()
        return one.page.evaluate(WRITTEN)

    written = phone(walk, language=language)

    assert written["ours"] == written["browsers"]
    assert written["ours"][0][6][1] == ("393.7" if language == "en" else "393,7")

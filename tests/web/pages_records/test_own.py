"""Own ingredients on their page: by form, and as a file with a look at it first."""

from __future__ import annotations

from tests.web.pages.reading import read_page
from tests.web.pages_records.conftest import Desk, form_values

FILE = (
    "name;role;like;notes;abv_percent\r\n"
    "Pier smoke;seasoning;;smoke:0,8;\r\n"
    "Kelp amaro;;light amaro;;16 to 18\r\n"
    "Cognac;base;;smoke;\r\n"
    "Tar;base;;smok;\r\n"
    "Soot;base;;smoke;140\r\n"
).encode("utf-8-sig")


def look_at(desk: Desk, content: bytes) -> str:
    files = {"file": ("own.csv", content, "text/csv")}
    answer = desk.send("/own/preview/import", files=files)
    assert answer.status_code == 200, answer.text[:500]
    return answer.text


def test_a_preview_shows_good_and_bad_rows_and_writes_nothing(desk: Desk) -> None:
    page = look_at(desk, FILE)
    assert "2 new, 0 changed, 0 as they were; 3 cannot be read" in page
    assert "140 % vol is outside 0 to 97" in page
    assert "<td>4</td><td>Cognac, base, smoke</td>" in page
    assert "what the dataset calls" in page
    assert "nearest: smoke" in page
    assert "Pier smoke" not in desk.get("/own").first("main").text


def test_pasted_rows_load_and_take_part_at_once(desk: Desk) -> None:
    answer = desk.send("/own/import", text=FILE.decode("utf-8-sig"))
    assert answer.status_code == 200
    assert "Loaded, except for some rows" in answer.text
    own = desk.get("/own").first("main").text
    assert "Pier smoke" in own
    assert "modifier; like" in own
    desk.done("/shelf/new", ingredient="kelp amaro", size_ml="500")
    assert "Kelp amaro" in desk.get("/shelf").first("main").text


def test_what_was_looked_at_is_what_is_loaded(desk: Desk) -> None:
    """The file waits in the page, unseen, with its line ends, quotes and marks."""
    content = b'name,role,notes,remarks\nTar,base,smoke:0.5,"a ""b"" <i>\nsecond & last"\n'
    waiting = form_values(read_page(look_at(desk, content)), "/own/import")
    waiting.pop("csrf")
    assert desk.done("/own/import", **waiting) == "/own"
    assert 'a ""b"" <i>\nsecond & last' in desk.client.get("/own.csv").text


def test_the_template_loads_and_the_exported_file_changes_nothing(desk: Desk) -> None:
    template = desk.client.get("/own/template.csv")
    assert template.headers["content-type"].startswith("text/csv")
    assert desk.done("/own/import", text=template.content.decode("utf-8-sig")) == "/own"
    page = look_at(desk, desk.client.get("/own.csv").content)
    assert "0 new, 0 changed, 3 as they were; 0 cannot be read" in page
    assert "loading it changes nothing" in page
    assert "Load what can be read" not in page


def test_a_file_that_is_none_is_refused_in_words(desk: Desk) -> None:
    for content, said in (
        (b"\xff\xfe\x00", "utf-8"),
        (b"name\n", "no row follows"),
        (b"", "empty"),
    ):
        files = {"file": ("own.csv", content, "text/csv")}
        answer = desk.send("/own/preview/import", files=files)
        assert answer.status_code == 422
        assert said in answer.text.casefold()
    nothing = desk.send("/own/preview/import", text=" ")
    assert "choose a file first" in nothing.text.casefold()


def test_what_the_form_does_not_show_is_not_lost_when_it_is_saved(desk: Desk) -> None:
    """The form has words and single numbers; ranges and weights stay while nobody changes them."""
    file = (
        "name,role,notes,abv_percent,salt_g_per_l\nTar,base,smoke:0.35; fig:0.2,36 to 38 to 44,2\n"
    )
    desk.done("/own/import", text=file)
    before = desk.client.get("/own.csv").text
    fields = desk.values("/own/own-tar", "/own/own-tar")
    fields.pop("csrf")
    desk.done("/own/own-tar", **{**fields, "remarks": "by the kiln"})
    after = desk.client.get("/own.csv").text
    assert after.replace("by the kiln", "").replace("own-tar,2", "own-tar,1") == before

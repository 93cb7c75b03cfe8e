"""Own ingredients on their page: by form, and as a file with a look at it first."""

from __future__ import annotations

from html import unescape

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
        (b"name,like\nhalf,dry vermouth\n\xff,x\n", "utf-8"),
        (b"\xff\xfe\x00", "utf-8"),
        (b"name\n", "no row follows"),
        (b"", "empty"),
    ):
        files = {"file": ("own.csv", content, "text/csv")}
        for address in ("/own/preview/import", "/own/import"):
            answer = desk.send(address, files=files)
            assert answer.status_code == 422
            page = read_page(answer.text)
            reason = page.first("p", id="csv-error").text.casefold()
            assert said in reason
            assert "choose it again" in reason
            assert "csv-error" in page.first("input", id="csv").attributes["aria-describedby"]
            assert page.first("textarea", id="text").text == ""
    assert "half" not in desk.client.get("/own.csv").text
    nothing = desk.send("/own/preview/import", text=" ")
    assert "choose a file first" in nothing.text.casefold()


def test_what_was_pasted_stays_where_it_is_refused(desk: Desk) -> None:
    for text, said in (
        ("name", "no row follows"),
        ("name,colour\nfig syrup,red", "'colour' is not known"),
        ("\nfig syrup", "line 1 is empty"),
    ):
        for address in ("/own/preview/import", "/own/import"):
            answer = desk.send(address, text=text)
            assert answer.status_code == 422
            page = read_page(answer.text)
            assert said in page.first("p", id="text-error").text.casefold()
            assert f">\n{text}</textarea>" in unescape(answer.text).replace("\r", "")
            assert not list(page.every("p", id="csv-error"))


def test_many_pasted_rows_are_kept_too(desk: Desk) -> None:
    text = "name,like\n" + "".join(f"vermouth {n},dry vermouth\n" for n in range(70_000))
    answer = desk.send("/own/preview/import", text=text)
    assert answer.status_code == 422
    page = read_page(answer.text)
    assert "too many" in page.first("p", id="text-error").text
    assert len(page.first("textarea", id="text").text) > 1_500_000


def test_loading_what_is_here_already_is_said(desk: Desk) -> None:
    template = desk.client.get("/own/template.csv").content
    assert desk.done("/own/import", text=template.decode("utf-8-sig")) == "/own"
    content = desk.client.get("/own.csv").content
    answer = desk.send("/own/import", files={"file": ("own.csv", content, "text/csv")})
    assert answer.status_code == 200
    assert "nothing was changed" in answer.text
    assert "Nothing was loaded" in answer.text


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

"""The bar's own records: shelf, coffees, specs, trials and guests. SQL is spoken here only.

Everything happens in a unit: `with bar.unit(who) as unit:` commits at its edge, `bar.look()` only
reads. What leaves the room are frozen records.
"""

from service.bar.api_tokens import (
    ApiToken,
    list_api_tokens,
    make_api_token,
    revoke_api_token,
    token_holder,
)
from service.bar.audit import AuditLine, audit_lines
from service.bar.backup import back_up, restore
from service.bar.bar_settings import (
    BarSettings,
    bar_dialect,
    read_bar_settings,
    write_bar_settings,
)
from service.bar.blind_tests import (
    BlindAnswer,
    BlindTest,
    answers,
    close_blind_test,
    give_answer,
    list_blind_tests,
    plan_blind_test,
    read_blind_test,
    take_back_answer,
)
from service.bar.bottles import (
    Bottle,
    BottleDraft,
    add_bottle,
    bottles_on_shelf,
    check_bottle,
    ids_on_shelf,
    labelled,
    move_stock,
    read_bottle,
    remove_bottle,
    rewrite_bottle,
    set_out,
)
from service.bar.coffees import (
    BarCoffee,
    CoffeeDraft,
    add_coffee,
    list_coffees,
    read_bar_coffee,
    remove_coffee,
    rewrite_coffee,
)
from service.bar.demo import load_demo
from service.bar.guest_links import (
    GuestLink,
    guest_spec,
    list_guest_links,
    make_guest_link,
    revoke_guest_link,
)
from service.bar.loading import FileImport, GoodRow, Outcome, Progress
from service.bar.logins import (
    TooManyTries,
    ended_visits,
    note_sign_in,
    note_sign_out,
    note_try,
)
from service.bar.marks import bar_version, mark_of
from service.bar.own_csv import MEANINGS as OWN_COLUMNS
from service.bar.own_csv import own_csv_lines, own_template_lines
from service.bar.own_import import load_own_ingredients
from service.bar.own_ingredients import (
    OwnIngredient,
    OwnIngredientDraft,
    add_own_ingredient,
    list_own_ingredients,
    read_own_ingredient,
    remove_own_ingredient,
    rewrite_own_ingredient,
)
from service.bar.own_meaning import OWN_SOURCE, Meaning, meaning_of, with_own_ingredients
from service.bar.package import load_package, write_package
from service.bar.shelf_csv import csv_lines
from service.bar.shelf_import import load_shelf
from service.bar.slices import Slice, slice_from, slice_of
from service.bar.spec_changes import SpecChange, difference
from service.bar.specs import (
    BarSpec,
    SpecDraft,
    add_spec,
    list_specs,
    read_spec,
    revise_spec,
    revisions,
    set_status,
    specs_pouring,
)
from service.bar.spreadsheets import BadRow, Dialect
from service.bar.tonight import (
    Sheet,
    Substitution,
    night_of,
    sheet,
    substitute,
    substitutions_of,
    undo_substitution,
)
from service.bar.trials import (
    Trial,
    TrialDraft,
    add_trial,
    list_trials,
    read_trial,
    redo_trial,
    undo_trial,
)
from service.bar.unit import Bar, Unit, all_or_nothing, is_empty, open_bar
from service.bar.words import ALLERGENS, BlindKind, Language, Lattice, Scope, SpecStatus, Units

__all__ = [
    "ALLERGENS",
    "OWN_COLUMNS",
    "OWN_SOURCE",
    "ApiToken",
    "AuditLine",
    "BadRow",
    "Bar",
    "BarCoffee",
    "BarSettings",
    "BarSpec",
    "BlindAnswer",
    "BlindKind",
    "BlindTest",
    "Bottle",
    "BottleDraft",
    "CoffeeDraft",
    "Dialect",
    "FileImport",
    "GoodRow",
    "GuestLink",
    "Language",
    "Lattice",
    "Meaning",
    "Outcome",
    "OwnIngredient",
    "OwnIngredientDraft",
    "Progress",
    "Scope",
    "Sheet",
    "Slice",
    "SpecChange",
    "SpecDraft",
    "SpecStatus",
    "Substitution",
    "TooManyTries",
    "Trial",
    "TrialDraft",
    "Unit",
    "Units",
    "add_bottle",
    "add_coffee",
    "add_own_ingredient",
    "add_spec",
    "add_trial",
    "all_or_nothing",
    "answers",
    "audit_lines",
    "back_up",
    "bar_dialect",
    "bar_version",
    "bottles_on_shelf",
    "check_bottle",
    "close_blind_test",
    "csv_lines",
    "difference",
    "ended_visits",
    "give_answer",
    "guest_spec",
    "ids_on_shelf",
    "is_empty",
    "labelled",
    "list_api_tokens",
    "list_blind_tests",
    "list_coffees",
    "list_guest_links",
    "list_own_ingredients",
    "list_specs",
    "list_trials",
    "load_demo",
    "load_own_ingredients",
    "load_package",
    "load_shelf",
    "make_api_token",
    "make_guest_link",
    "mark_of",
    "meaning_of",
    "move_stock",
    "night_of",
    "note_sign_in",
    "note_sign_out",
    "note_try",
    "open_bar",
    "own_csv_lines",
    "own_template_lines",
    "plan_blind_test",
    "read_bar_coffee",
    "read_bar_settings",
    "read_blind_test",
    "read_bottle",
    "read_own_ingredient",
    "read_spec",
    "read_trial",
    "redo_trial",
    "remove_bottle",
    "remove_coffee",
    "remove_own_ingredient",
    "restore",
    "revise_spec",
    "revisions",
    "revoke_api_token",
    "revoke_guest_link",
    "rewrite_bottle",
    "rewrite_coffee",
    "rewrite_own_ingredient",
    "set_out",
    "set_status",
    "sheet",
    "slice_from",
    "slice_of",
    "specs_pouring",
    "substitute",
    "substitutions_of",
    "take_back_answer",
    "token_holder",
    "undo_substitution",
    "undo_trial",
    "with_own_ingredients",
    "write_bar_settings",
    "write_package",
]

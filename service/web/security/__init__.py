"""Who may: hosts, headers, visits, forms, tokens. Knows of no page and no record."""

from service.web.security.admission import (
    Door,
    SignInFirst,
    WhoHere,
    may_let_others_in,
    may_write,
    sign_in_problem,
)
from service.web.security.ended import EndedVisits, end
from service.web.security.forms import FIELD, FormToken, form_checked, refused_form
from service.web.security.headers import HEADERS, SecurityHeaders
from service.web.security.hosts import KnownHosts
from service.web.security.keys import Keys, keys_of
from service.web.security.visits import COOKIE, Visit, begin, forget, remember, visit_of
from service.web.security.who import By, Who, who_of

__all__ = [
    "COOKIE",
    "FIELD",
    "HEADERS",
    "By",
    "Door",
    "EndedVisits",
    "FormToken",
    "Keys",
    "KnownHosts",
    "SecurityHeaders",
    "SignInFirst",
    "Visit",
    "Who",
    "WhoHere",
    "begin",
    "end",
    "forget",
    "form_checked",
    "keys_of",
    "may_let_others_in",
    "may_write",
    "refused_form",
    "remember",
    "sign_in_problem",
    "visit_of",
    "who_of",
]

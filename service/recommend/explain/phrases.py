"""The ways to say each thing. Short words; no chemistry, no promise, no health.

`first` is the coffee, or the first of two bottles; `name` the other bottle, whose verbs agree with
it; `it` is `it` for one note and `both` for two.
"""

from __future__ import annotations

from typing import Final

ECHO: Final = (
    "You get {notes} from the {first}, and then once more from the {name}.",
    "The {first} and the {name} share one thing: the smell of {notes}.",
    "The {name} {picks} up the {notes} that you get in the {first}.",
    "Look for {notes}: you find that in the {first} and in the {name}.",
    "You get {notes} in the {first}, and the {name} {brings} more of {it}.",
    "What ties the {name} to the {first} is that both smell of {notes}.",
    "Smell the {first} first, then the {name}: you find {notes} in both.",
    "The {first} starts with {notes}, and then the {name} {has} {it} too.",
)
ECHO_AND_MORE: Final = (
    "You get {notes} from the {first} and the {name}, and the {other} {adds_too} {more}.",
    "The {first} and the {name} both smell of {notes}; the {other} {adds_too} {more}.",
    "The {name} {picks} up the {notes} in the {first}, and then comes {more} from the {other}.",
    "Look for {notes} from the {first} and the {name}, then {more} from the {other}.",
    "You get {notes} in the {first} and in the {name}, with {more} from the {other}.",
    "What ties the {name} to the {first} is {notes}; the {other} {adds_too} {more}.",
    "First you get {notes}, from the {first} and the {name}; then {more} from the {other}.",
)
OWN_NOTES: Final = (
    "The {name} {smells} of {notes}.",
    "From the {name} you get {notes}.",
    "The {name} {brings} {notes}.",
)
SIDE_BY_SIDE: Final = (
    "You get {ours} in the {first}, and then the {name} {adds_too} {theirs} to it.",
    "You get {ours} from the {first} and {theirs} from the {name}.",
    "First comes the {ours} of the {first}, then the {theirs} of the {name}.",
    "The {name} {sets} {theirs} next to the {ours} of the {first}.",
)
# Where the bottle's name has its note in it already: fig liqueur, fig.
SIDE_BY_SIDE_NAMED: Final = (
    "First comes the {ours} of the {first}, and then {theirs}.",
    "You get {ours} from the {first}, and then {theirs} on top of it.",
    "The {first} has {ours}, and {theirs} comes after it.",
)
BRIDGE: Final = (
    "Think of {third}: it is a bit like the {first} and a bit like the {name}.",
    "What links the two is {third}, as it is a bit like each of them.",
    "Both have a bit of {third} in them.",
)
CONTRAST: Final = (
    "The {name} {sets} {theirs} against the {ours} of the {first}.",
    "Against the {ours} of the {first}, the {name} {brings} {theirs}.",
    "The {first} comes with {ours}; the {name} {answers} with {theirs}.",
)
CUSTOM: Final = (
    "People have mixed {first} and {name} for a long time.",
    "It is an old idea to put {first} and {name} in one glass.",
    "{first} and {name} go back a long way in one glass.",
)
CUSTOM_FOOD: Final = (
    "Coffee and {food} is an old match, and the {name} {brings} it to the glass.",
    "People have long had {food} with coffee, and here the {name} {brings} it.",
    "You may know coffee with {food}. Here the {name} {brings} it.",
)
CUSTOM_LIKE: Final = (
    "{like_a} and {like_b} go back a long way, and this is close to it.",
    "People have long mixed {like_a} and {like_b}. This is much the same idea.",
    "This stays close to an old pair: {like_a} and {like_b}.",
)
CUSTOM_LIKE_FOOD: Final = (
    "Coffee and {food} is an old match, and this is close to it.",
    "People have long had {food} with coffee. This is much the same idea.",
    "This stays close to an old pair: coffee and {food}.",
)
TASTE: Final = (
    "It tastes {sweet} and {bitter}, and it is {strength}.",
    "It is {strength}, {sweet} and {bitter}.",
    "On the tongue it is {sweet} and {bitter}; as a drink it is {strength}.",
    "Expect it to be {strength}, and to taste {sweet} and {bitter}.",
)
TASTE_WITH_EDGE: Final = (
    "It is {strength} and {sweet}, and the coffee makes it more bitter.",
    "It tastes {sweet} at first, then more bitter from the coffee, and it is {strength}.",
    "It is {strength}; it starts {sweet}, and the coffee adds a bitter edge.",
    "Expect it to be {strength} and {sweet}, with a bitter edge from the coffee.",
)

# For staff: numbers are allowed, sentences stay short.
STAFF_ECHO: Final = (
    "The {first} and the {name} share {notes}, which is {amount} of a score of {score}.",
    "The link is {notes}, in the {first} and in the {name}: {amount} of a score of {score}.",
    "Of a score of {score}, {amount} comes from {notes}, in the {first} and in the {name}.",
)
STAFF_ECHO_ALONE: Final = (
    "Why it works: the {first} and the {name} share {notes}, which adds {amount}.",
    "The link is {notes}, in the {first} and in the {name}, which adds {amount}.",
    "The {name} {brings} the {notes} of the {first} again, which adds {amount}.",
)
STAFF_BRIDGE: Final = (
    "They share little by themselves, but {third} is near to both ({amount}).",
    "The short way from one to the other goes by {third} ({amount}).",
)
STAFF_CONTRAST: Final = (
    "{ours} on one side and {theirs} on the other are often put together ({amount}).",
    "The {name} {sets} {theirs} against {ours}, which is often done ({amount}).",
)
STAFF_CUSTOM: Final = (
    "Custom backs it: {like_a} with {like_b} ({amount}).",
    "There is custom behind it, from {like_a} with {like_b} ({amount}).",
)
STAFF_CONFIDENCE: Final = {
    "firm": (
        "The evidence is firm.",
        "You can trust this one: the evidence is firm.",
    ),
    "fair": (
        "The evidence is fair; smell both before you put it on the list.",
        "The evidence is fair, so taste it once yourself.",
    ),
    "thin": (
        "The evidence is thin: taste it before you sell it.",
        "Take it as a hint, the evidence is thin: taste it first.",
    ),
}
STAFF_BALANCE: Final = {
    "inside": ("After the coffee it is in balance.", "It is in balance when it leaves the filter."),
    "edge": (
        "After the coffee it is on the edge of balance{leaning}.",
        "It is only just in balance when it leaves the filter{leaning}.",
    ),
    "outside": (
        "Watch it: after the coffee it is out of balance{leaning}.",
        "When it leaves the filter it is out of balance{leaning}.",
    ),
}
STAFF_BALANCE_PLAIN: Final = {
    "inside": ("It is in balance.",),
    "edge": ("It is on the edge of balance{leaning}.", "It is only just in balance{leaning}."),
    "outside": ("Watch it: it is out of balance{leaning}.", "It is out of balance{leaning}."),
}
STAFF_BITTER: Final = (
    "The coffee moves bitter from {before} to {after} of 15 points.",
    "Bitter goes from {before} to {after} of 15 points in the filter.",
)
STAFF_REMEDY: Final = ("To put it right: {remedy}.", "What helps most: {remedy}.")
STAFF_BED: Final = (
    "The bed keeps about {kept} ml and takes about {seconds} seconds.",
    "Give it about {seconds} seconds to drain; about {kept} ml stays in the bed.",
)
STAFF_HOLDS: Final = (
    "The glass holds about {alcohol} g of alcohol and about {caffeine} mg of caffeine: give these "
    "as facts, and never call it sobering.",
    "As facts only: about {alcohol} g of alcohol and {caffeine} mg of caffeine in the glass; never "
    "call it sobering.",
)
STAFF_ALCOHOL: Final = ("The glass holds about {alcohol} g of alcohol.",)
STAFF_ALLERGEN: Final = (
    "Say it before you pour: it contains or may contain {allergens} ({bottles}).",
    "Tell the guest first that it contains or may contain {allergens} ({bottles}).",
)
STAFF_CAUTION: Final = (
    "Know the caution on {cautions} ({bottles}).",
    "Mind the caution on {cautions} ({bottles}).",
)
STAFF_SAY: Final = (
    'At the table, say: "{guest}"',
    'Put it like this: "{guest}"',
    'In one breath: "{guest}"',
)

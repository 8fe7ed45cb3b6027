"""Headings by their form alone: a short line over records, marked as a heading, names their board whatever its words.

Where such a line is too much for a name the board above it ends at least, and that is said.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from recap.normalise import other_parts, patterns, words
from recap.normalise.clean import fold
from recap.normalise.line_shapes import heads_items
from recap.normalise.surroundings import holds_values
from recap.normalise.tokens import Sort, Token, tokenise

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.heading_marks import Marked
    from recap.normalise.surroundings import Around

LONGEST_NAME: Final = 48
MOST_WORDS: Final = {0: 3, 1: 4, 2: 6}
"""Of a name, by how plainly the line is a heading."""
_MEANING: Final = frozenset(
    (
        Sort.REFS,
        Sort.CAP,
        Sort.PAIR,
        Sort.SECTIONS,
        Sort.VOLTS,
        Sort.TEMP,
        Sort.SIZE,
        Sort.SAFETY,
        Sort.KIND,
        Sort.COUNT,
        Sort.RIPPLE,
        Sort.DITTO,
        Sort.LIKE,
        Sort.MEASURED,
        Sort.REPLACED,
        Sort.ORIGINAL,
        Sort.NOT_FITTED,
        Sort.DATE,
        Sort.ASIDE,
    )
)
"""A line with one of these says something of parts or of the work, and is no bare name."""
TOTALS: Final = frozenset(
    fold(word)
    for word in (
        "total totals sum sums subtotal subtotals summe summen gesamt gesamtmenge gesamtstückliste insgesamt "
        "zwischensumme totaux somme totale totali somma totales suma totaal totalen "
        "razem summa sammanlagt yhteensä celkem összesen итого всего 合計"
    ).split()
)
"""Words of a heading under which the list is added up."""
_NO_NAME: Final = (
    TOTALS
    | frozenset(map(fold, "summary zusammenfassung récapitulatif résumé riepilogo resumen samenvatting".split()))
    | frozenset(
        fold(word)
        for word in (
            "note notes notiz notizen anmerkung anmerkungen bemerkung bemerkungen hinweis remarque remarques nota note "
            "notas opmerking opmerkingen comment comments warning caution attention achtung important wichtig "
            "attenzione atención todo done ok fine good bad missing optional stock ordered bought order orders shop "
            "edit update updated ps key legend legende tip tips thanks cheers regards greetings hello hi hey tools "
            "links source sources credits photo photos step steps disclaimer contents index page seite pagina página "
            "old new original originals alt neu spare spares in out yes no ja nein unknown unbekannt end ende fin fine "
            "mods modifications amendments corrections errata änderungen korrekturen modifiche correzioni cambios "
            "correcciones wijzigingen correcties ändringar errors fehler erreurs errori errores fouten replies "
            "answers posts only already careful hope quote reply code continued cont suite fortsetzung segue vervolg "
            "changes history fehlen fehlt forgot forgotten vergessen oublié oubliés manquent manca mancano falta "
            "faltan ontbreekt ontbreken brakuje further additional additions common gemeinsam gemeinsame commun "
            "communs comune comuni común comunes gemeenschappelijk"
        ).split()
    )
    | {fold(word) for word in (*words.TITLE_WORDS, *words.SECTION_WORDS)}
)
"""With one of these a line heads remarks, a class of work or a page, and no board."""
_BEGINS_SENTENCE: Final = frozenset(
    "the a an for on of at to across these those this here there if when not so from und aber mit für bei "
    "und et avec pour con per para met voor i we you my your please also but some most many see check use".split()
)
_VERBS: Final = frozenset(
    "is are was were am have has had do does did will would can could should must need needs get got buy bought "
    "look looks see seen try found find need measure measured test tested works work make sure remember read "
    "add adds added contains uses comes takes requires "
    "don't i we you they my your ist sind war habe hat wird ich wir sie muss est sont j'ai nous vous ho abbiamo "
    "sono è tengo son es está ik heb zijn replaced replace replacing using used "
    "mine ours yours differs differ different meiner meins unserer mien mienne mijne".split()
)
_BRACKETED: Final = re.compile(r"\s*[(\[][^()\[\]]*[)\]]")
_JOINTS: Final = frozenset(
    "de du des di del della delle dei la le les l' d' d of the and & und et e y en der die das für for van von no nr "
    "to / il el los las do da pour per para voor".split()
)
NAMES_OF_PARTS: Final = frozenset(("son", "sono", "verticale", "vertical", "horizontal", "horizontale"))
"""Words that elsewhere say nothing of boards (``Son`` is Italian for *are*, French for *sound*) and as a heading do."""


@dataclass(frozen=True, slots=True)
class Stands:
    """Where a line stands: what is around it, a blank line above it, positions above it, and the board that is open."""

    around: Around
    alone: bool
    follows: bool
    board: str | None


@dataclass(frozen=True, slots=True)
class Form:
    """What a line is by its form: the name of a board, or a heading not understood that ``ends`` the board or not."""

    name: str = ""
    ends: bool = False
    message: str = ""


_COUNTED_PARTS: Final = re.compile(r"\W*\d{1,3}\s+(?:.*#\s?[\w-]*\d{3}|.*(?:[A-Z]{1,3}\d{1,4}\s?,\s?){2})")
"""``**12 KX-156 AR1,AR2,AR3, Kiosk# 26-1031**``: a row of a parts list, printed bold."""


def judge(text: str, marked: Marked, stands: Stands) -> Form | None:
    """Return what a line is by its form, or None where it is no heading; ``marked`` is the line without its marks."""
    if _COUNTED_PARTS.match(text) or _PLACES.fullmatch(marked.text.rstrip(",")):
        return None
    around = stands.around
    if around.over and names_variant(text):
        return Form(marked.text.strip(" :"))
    item = patterns.BULLET.match(text)
    strength, bare = max(marked.strength, int(around.lone)), marked.text
    if item is not None and not (stands.alone and (not around.below.strip() or heads_items(text, around.below))):
        return None
    if item is not None:
        strength, bare = 1, text[item.end() :].strip(" :")  # the only item of its list
    if not (around.near if marked.strength == 2 else around.over):  # noqa: PLR2004 - unmistakable
        return None
    may = strength or around.parts or (stands.alone and stands.follows)
    if may and (name := name_by_form(bare, strength)):
        return Form(name)
    return _unclear(text, marked, stands.board)


_VARIANT: Final = re.compile(
    r"(?:[^\W_][\w./-]*\s){1,3}(?:only|nur|seulement|uniquement|solo|soltanto|solamente|alleen|endast|bara|kun|tylko|pouze|vain)\s?:"
    r"|(?:only|nur|seulement|solo|alleen|endast|kun|tylko)\s(?:(?:for|in|on|für|bei|pour|per|para|voor|för)\s)?(?:[^\W_][\w./-]*\s?){1,3}:",
    re.IGNORECASE,
)


def names_variant(text: str) -> bool:
    """Tell whether a heading is of one variant of the set, which its parts are in and no other: ``K19 only:``."""
    told = [fold(word) for word in re.findall(r"[^\W_]+", text)]
    plain = _VARIANT.fullmatch(text.strip()) is not None and told[0] not in _BEGINS_SENTENCE
    return plain and (any(map(str.isdigit, text)) or bool(set(told) & _EDITIONS))


_EDITIONS: Final = frozenset(
    "version versions model models variant variants revision rev early late mono stereo deluxe mkii export europe usa "
    "uk ausführung modell modèle modello modelo uitvoering typ type left right".split()
)


def _unclear(text: str, marked: Marked, board: str | None) -> Form | None:
    """Return what is to be said of a line over records that is marked as a heading and names nothing."""
    message = "looks like a heading but isn't understood;"
    if board is None:
        return None
    if not marked.strength:
        return Form(message=f"{message} {board!r} goes on below it") if might_name(text) else None
    if may_end(marked.text, marked.strength):
        return Form(ends=True, message=f"{message} {board!r} ends here, below no board is known")
    if leads_on(text) and (text.endswith(":") or marked.level is not None):
        return Form(message=f"{message} {board!r} goes on below it")
    return None


def might_name(text: str) -> bool:
    """Tell whether an unmarked line may be a heading: a few words, the first with a capital, no prose."""
    said = re.findall(r"[\w'’&+./-]+", text)
    told = {fold(word).strip(".'-/") for word in said}
    if not 1 <= len(said) <= MOST_WORDS[1] or not text[0].isupper() or reads_like_prose(text) or told & _NO_NAME:
        return False
    tokens = tokenise(text)
    return leads_on(text) and not _means_nothing(tokens) and not any(token.sort in _MEANING for token in tokens)


def without_brackets(text: str) -> str:
    """Return a heading without what it adds in brackets."""
    return re.sub(r"\s{2,}", " ", _BRACKETED.sub("", text)).strip() or text


def in_front_of_remark(text: str) -> str | None:
    """Return the heading that a line with a remark in brackets is: ``Left channel (right one is C201 etc.):``."""
    bare = without_brackets(text)
    marked = re.match(r"#{1,6}\s|={2,6}\s?\S", text) is not None
    if bare == text or not (marked or text.endswith(":")) or holds_values(bare):
        return None
    if marked:
        return bare if len(bare) <= LONGEST_NAME else None
    return f"{bare.rstrip(' :')}:" if len(bare) <= LONGEST_NAME else None


_PLACES: Final = re.compile(r"\W*[A-Z]{1,3}\d{1,4}(?:\s?[,;/]\s?[A-Z]{1,3}\d{1,4})+\W*")
"""``GR1,GR2,GR3``: places of parts, and no board's name."""


_SIDE: Final = re.compile(
    r"(?:left|right|linke[rs]?|rechte[rs]?)\s[^\W\d_]{2,}|canale?\s(?:gauche|droit|sinistro|destro|izquierdo|derecho)",
    re.IGNORECASE,
)
_RESISTOR: Final = re.compile(r"\d{1,3}(?:[.,]\d)?\s?[RKM]\d?\s+\W?[A-Z]{1,3}\d", re.IGNORECASE)


def names_side(text: str) -> bool:
    """Tell whether a line is one of two channels: ``Left amp`` over the first parts is no title."""
    return _SIDE.fullmatch(text.rstrip(" :")) is not None


def is_resistor(text: str) -> bool:
    """Tell whether a line is a resistance and its place (``33R +R20``)."""
    return _RESISTOR.match(text) is not None


def name_by_form(text: str, strength: int) -> str | None:
    """Return the board that a short line over records names, or None where it reads like anything but a name.

    ``strength`` is how plainly the line is marked as a heading (0 to 2); the weaker, the shorter a name must be.
    """
    bare = without_brackets(text)
    told = re.findall(r"[\w'’&+./-]+", bare)
    named = [word for word in told if fold(word) not in _JOINTS]
    if not named or len(named) > MOST_WORDS[strength] or len(bare) > LONGEST_NAME or reads_like_prose(bare):
        return None
    small = strength < 2 and re.fullmatch(r"[^\w(]*[a-z].*", bare)  # noqa: PLR2004 - unmistakable
    if not re.search(r"[^\W\d_]{2}", bare) or _PLACES.fullmatch(text) or small:
        return None
    if {fold(word).strip(".'-/") for word in told} & (_NO_NAME if len(named) == 1 else _NO_NAME - {"links"}):
        return None  # ``Endst. links``: the left one
    tokens = tokenise(bare)
    of_parts = all(other_parts.is_other_word(fold(word)) for word in named) or other_parts.states_resistance(bare)
    if of_parts or any(token.sort in _MEANING for token in tokens) or _means_nothing(tokens):
        return None
    if strength == 0 and not _stands_by_itself(told, tokens):
        return None
    return bare.rstrip(" .:-")


def _stands_by_itself(told: Sequence[str], tokens: Sequence[Token]) -> bool:
    """Tell whether words that nothing marks as a heading look like a name: two at most, or each with a capital."""
    if any(token.sort in {Sort.MOUNT, Sort.OTHER_REF} for token in tokens):
        return False
    named = [word for word in told if fold(word) not in _COUPLING]
    coupled = any(word in "&/+" for word in told) and told[0][0].isupper()
    if any(fold(word) in words.NEUTRAL | _JOINTS and not word[0].isdigit() for word in named[1:]):
        return False
    return coupled or len(named) <= 2 or all(word[0].isupper() or word[0].isdigit() for word in named)  # noqa: PLR2004


_COUPLING: Final = frozenset("& / + and und et e y en".split())


def may_end(text: str, strength: int) -> bool:
    """Tell whether a line over records that names no board may still end the one above it: no sentence, no remark."""
    told = {fold(word).strip(".'-/") for word in re.findall(r"[\w'’-]+", text)}
    if reads_like_prose(without_brackets(text)) or told & _NO_NAME or not told - words.NEUTRAL:
        return False
    if any(token.sort in _MEANING - {Sort.ASIDE, Sort.COUNT} for token in tokenise(text)):
        return False
    return len(told) <= 2 * MOST_WORDS[strength]


def leads_on(text: str) -> bool:
    """Tell whether a line over records speaks of what stands below it in words that aren't understood."""
    said = [fold(word).strip(".'-/") for word in re.findall(r"[\w'’-]+", text)]
    if not said or said[0] in _NO_NAME or not set(said) - words.NEUTRAL or text.rstrip().endswith(("!", "?")):
        return False
    return not any(token.sort in _TELLING for token in tokenise(text))


_TELLING: Final = _MEANING - {Sort.ASIDE, Sort.COUNT, Sort.VOLTS, Sort.TEMP, Sort.DATE}


def _means_nothing(tokens: Sequence[Token]) -> bool:
    """Tell whether nothing but empty words and words for a mount stands in a heading."""
    told = [token for token in tokens if token.sort not in {Sort.MARK, Sort.NUMBER}]
    if len(told) == 1 and fold(told[0].text) in NAMES_OF_PARTS:
        return False
    return all(token.sort is Sort.MOUNT or fold(token.text) in words.NEUTRAL for token in told)


def reads_like_prose(text: str) -> bool:
    """Tell whether a line is a sentence, a question or a greeting rather than a name."""
    told = [fold(word) for word in re.findall(r"[^\W\d_][\w'’-]*", text) if word != "IF"]  # the frequency
    if not told and "IF" in text:
        return False
    if not told or (told[0] in _BEGINS_SENTENCE and len(told) > 1):
        return True
    if text.rstrip().endswith(("!", "?", ",", ";")) or _SENTENCE.search(text):
        return True
    if len(told) == 1 and told[0] in NAMES_OF_PARTS:
        return False
    return bool(set(told) & (_VERBS | {"can't", "couldn't"} | (words.HEDGES - _VERSIONS) | words.UNCERTAIN))


_SENTENCE: Final = re.compile(r"\w{3,}\.\s+[A-ZÄÖÜÉ]|\w\s\S+\s\w+\.$|[!?]\s|,\s\w+\s\w+\s\w+")


_VERSIONS: Final = frozenset(
    "rev revision revisions version versions model models variant variants early late later".split()
)


def heads_totals(text: str) -> bool:
    """Tell whether a heading says that the list is added up below it, and nothing else."""
    told = [fold(word) for word in re.findall(r"[^\W\d_]+", text)]
    idle = words.NEUTRAL | words.TITLE_WORDS | {"stuckliste", "overall", "grand", "parts", "needed"}
    return bool(set(told) & TOTALS) and all(word in TOTALS | idle for word in told) and not re.search(r"\d", text)

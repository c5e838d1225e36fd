"""Whether a clause asks, and how: by its form, since people leave out the question mark, or invert nothing."""

from __future__ import annotations

from typing import Literal

from advisor.hearing.cutting import Clause, Line
from advisor.hearing.english import listed, phrases

#: "" is no question; "whether" asks if something is so; "what" asks for something; "why" takes it for granted.
Asking = Literal["", "whether", "what", "why"]

_DO = listed("do does did")
_MODALS = listed("can could should shall will would may might must need ought dare")
_BE_HAVE = listed("is are was were am has have had")
_HELPERS = _DO | _MODALS | _BE_HAVE
_SUBJECTS = listed(
    "i it he she we they you this that these those there the a an my our your his her its their anybody anyone any "
    "somebody someone something anything nothing one mine people everything all some every each both worms compost "
    "leaves grass rats"
)
_DETERMINERS = listed("the a an my our your his her its their this that these those some any all")
_WORDS = listed("what which who whose when where")
_LEADS = listed(
    "so and but or well right ok okay now then please hi hello hey also anyway anyroad morning evening afternoon good "
    "question quick just yes no yeah oh ah um er erm hmm sorry mate love lads folks guys all thanks cheers tell me & "
    "still otherwise excuse actually like one more thing another first second second-ly finally plus ta dear"
)
_LONGEST_LEAD = 6
#: What can be judged without a subject by those who leave it out: "is possible to put ...", "is OK".
_JUDGED = listed(
    "possible ok okay good bad normal allowed necessary better best true dangerous safe enough correct right wrong "
    "harmful poisonous healthy fine alright useful worth usual important much many too likely able supposed meant"
)
#: What a statement says of its subject where that is left out: "is very good", "are always wet".
_STATES = listed(
    "very so too all not just still really quite now also already always never only like dry wet hot cold warm full "
    "going getting gone been being in on at from under after before since for more less much as no"
)
_MANNERS = listed(
    "much many long often big deep high tall hot warm wet damp far soon late early old thick wide fast regular thin "
    "thinly thickly large small dry cold deeply frequently regularly heavy quick quickly hard strong close near finely"
)
#: What a question word is when it follows one of these: no question ("I know how much", "no matter how long").
_CLEFT = listed("is was")
_LEARN = listed("know hear ask wonder learn understand find wondering asking")
_KNOWN = listed(
    "matter care mind bothered fussed worried know knew see saw told said surprised amazed depends remember reckon "
    "notice shows"
)
#: Words that ask for what follows, before a word that must come: "I wonder if", "do you know when".
_EMBEDDING = phrases(
    "wonder, wondering, want to know, like to know, need to know, you know, anyone know, anybody know, "
    "somebody know, someone know, tell me, tell us, show me, show us, curious, beats me, nobody says, nobody tells, "
    "explain, advise, not sure, not know, never know, no idea, any idea, ask, asking, the question, my question, "
    "question is, not understand"
)
_STRESSED = (["on", "earth"], ["the", "heck"], ["the", "hell"], ["the", "devil"], ["in", "heaven"])
#: A short clause that ends in one of these asks, but behind one of _KEPT ("no matter what", "guess what").
_ENDS = listed("what why how when where")
_KEPT = listed("matter know guess or what some no tell you know-what")
#: What some unnamed thing does: "what becomes of it", "what suits a small yard".
_WHAT_DOES = listed(
    "becomes happens makes causes stops goes comes counts keeps holds turns brings sends gives suits works fits helps "
    "kills eats lives attracts needs grows lets takes does beats cures shifts drives leaves means sets spoils stinks"
)
#: What follows a noun of which something is asked.
_ASKED_OF = listed("really just actually even still ever always necessarily basically better worse that any as")
_BEFORE = listed("for in at by to from with on of under after about since until")
_SHORT = 4  # words
_WHAT_STOPS = 3  # words
_ASKED_FOR = listed("if whether how what when where which why who")
#: A clause that is joined by one of these to a question is part of it.
_UNDER = listed("because since while whilst although though unless until before after when which who if")
#: A whole clause of one of these, at the end of a sentence, asks whether what went before is so.
_TAGS = phrases(
    "is ok, is okay, is it, is that ok, is it ok, ok or not, yes or no, or not, or no, is normal, is that normal, "
    "is it normal, is this normal, is this ok, is good, is bad, is it bad, is that bad, is that right, am i right, "
    "do you think, is not it, are not they, does it, will it, any good, any use, any ideas, any idea, any advice, "
    "any tips, any harm, any risk, any danger, worth it, good idea, good or bad, safe or not, any help, "
    "any suggestions, any thoughts, what do you think, what do you reckon, is that a problem, is it a problem, "
    "is it safe, is this safe, in or out, yes or not, true or false"
)
#: A sentence of nothing else asks whether what was said before it is so: "me nan says they eat onions. Is she right?"
_VERDICTS = phrases(
    "true, is it true, is that true, is that so, can that be so, could that be so, is she right, is he right, "
    "are they right, has she a point, has he a point, have they a point, does she have a point, does he have a point, "
    "myth or fact, fact or myth, is it a myth, is that a myth, myth, load of rubbish, a load of rubbish, "
    "is that rubbish, is that nonsense, nonsense, old wives tale, aye or nay, yay or nay, yes or no, be honest, "
    "be honest with me, be straight with me, surely not, surely not though, any truth in it, any truth in that, "
    "is there any truth in it, is there any truth in that, is there anything in it, anything in it, is that correct, "
    "correct, true or false, what do you make of that, do you believe it, do you agree, would you agree"
)
#: With these one gives a cause.
CAUSES = listed("because cause since")
_WOULD = listed("will would does might")
_PERSONS = listed("i it he she we they you that this there")
_REPORTS = listed("said asked told says asks shouted")
_OTHERS = listed("him her them")
#: Verbs of a statement that is only marvelled at where "??" stands behind it.
_HAPPENS = listed(
    "is was were are am smells smelled smelt stinks stank reeks looks looked feels felt came comes went goes "
    "happened got gets has had keeps kept turned grew grows died dies ate fell ran leaks leaked moved appeared "
    "turns think"
)
_ASKS_LEAVE = listed("can could would will should shall")
#: Words after a helper whose subject is left out: "can smell it from here", "could be rats", "can of beans".
_NO_SUBJECT = listed(
    "be not see smell get do have go put use tell feel hear only still even just really also probably never always of "
    "someone barely hardly you like love take keep say make give"
)
#: What may be asked of something: "can tea bags go in".
_MAY_DO = listed(
    "go be get come rot compost break decompose work stay live survive cause help harm hurt attract kill make turn "
    "need heat smell last freeze carry spread grow do have happen stop start take cope eat like manage count "
    "matter draw breed become ferment spoil burn poison"
)
_FEW = 8  # words in which a question word that does not stand first is looked for by its helper


def asking(line: Line, clause: Clause) -> Asking:
    """How a clause asks."""
    goes_on = False
    for one in line.clauses:
        if not goes_on and one.sentence == clause.sentence and one.end <= clause.start:
            goes_on = bool(_asking(line, one, goes_on=goes_on))
    return _asking(line, clause, goes_on=goes_on)


def _asking(line: Line, clause: Clause, *, goes_on: bool) -> Asking:
    """How a clause asks, where one before it in its sentence does or does not."""
    forms = _bare(line, clause)
    if not forms:
        return ""
    marked = line.sentences[clause.sentence].asks and not _is_surprised(line, clause, forms)
    last = _is_last(line, clause)
    if _is_told_on(line, clause) or _is_reported(line, clause) or _is_verdict(line, clause):
        return ""
    if clause.joined in _UNDER and goes_on:
        return ""
    embedded = _asked_for(line, clause)
    first, second = forms[0], forms[1] if len(forms) > 1 else ""
    if first in ("if", "when") and any(
        form in _WOULD and forms[at + 1] in _SUBJECTS for at, form in enumerate(forms[3:-1], 3)
    ):
        return "whether"  # all in one, without a comma: "if I leave it out will it freeze"
    if first == "if" and marked and last and len(line.clauses) == 1:
        return "whether"  # "if I left the lid off?"
    if first in ("if", "whether"):
        return "whether" if embedded or forms != _form_list(line, clause) else ""
    if first == "why" or (first == "how" and second == "come") or (first == "what" and forms[-1] == "for"):
        return "" if first == "why" and second == "not" and len(forms) == 2 and not marked else "why"
    said = _form_list(line, clause)
    if 1 < len(said) <= _SHORT and said[-1] in _ENDS and said[-2] not in _KEPT:
        return "why" if said[-1] == "why" else "what"  # "so then what", "and after that how"
    if first in _BEFORE and second in ("what", "which", "whose") and _HELPERS & set(forms[2:]):
        return "why" if forms[1:3] == ["what", "reason"] else "what"
    if first == "how":
        return "" if second in ("ever", "lovely", "nice", "funny", "strange", "about") and not marked else "what"
    if first in _WORDS and _word_asks(forms, clause, marked=marked and last, embedded=embedded):
        return "what"
    if _inverted(forms, marked=marked and last):
        return "whether"
    if _is_tag(line, clause) or _is_judged(line, clause):
        return "whether"
    if forms[-2:] in (["or", "not"], ["or", "no"], ["or", "nay"]):
        return "whether"
    if " ".join(forms) in _TAGS and (marked or last or "or" in forms):
        return "whether"
    if _inside(forms, marked=marked):
        return "what"
    if marked and last and not goes_on:
        return "whether" if _HELPERS & set(forms) else "what"
    if _embeds(forms) and _ASKED_FOR & set(forms):
        return "whether" if {"if", "whether"} & set(forms) else "what"
    return ""


def _is_surprised(line: Line, clause: Clause, forms: list[str]) -> bool:
    """Whether "??" behind a statement only marvels at it: "it smells like sick??"."""
    end = line.sentences[clause.sentence].end
    marks = [word.form for word in line.words[end : end + 2]]
    return marks == ["?", "?"] and bool(_HAPPENS & set(forms[1:])) and not _HELPERS & set(forms[:1])


def _is_told_on(line: Line, clause: Clause) -> bool:
    """Whether a clause is a tag inside what is told on: "been that sort of autumn, hasn't it, my beans"."""
    sentence = line.sentences[clause.sentence]
    if sentence.asks:
        return False
    tag = [word.form for word in line.words[clause.start : clause.end]]
    at = 2 if tag[1:2] == ["not"] else 1
    if len(tag) <= at or tag[0] not in _HELPERS or tag[at] not in _PERSONS or clause.start == sentence.start:
        return False
    if line.words[clause.start - 1].form != ",":
        return False
    if tag[at] == "you" and tag[0] in _MODALS:
        return False  # "save that, would you, and ..."
    ends = len(tag) == at + 1 or tag[at + 1] == ","
    return ends and clause.start + at + 1 < sentence.end


def _is_reported(line: Line, clause: Clause) -> bool:
    """Whether a question was put to somebody else: "I said to them at the stables, what do you feed these"."""
    before = [one for one in line.clauses if one.end <= clause.start and one.sentence == clause.sentence]
    if not before or line.sentences[clause.sentence].asks:
        return False
    said = [word.form for word in line.words[before[-1].start : before[-1].end]]
    return any(form in _REPORTS and _OTHERS & set(said[at + 1 : at + 3]) for at, form in enumerate(said[:4]))


def inverted(line: Line, clause: Clause) -> bool:
    """Whether what a clause says is asked and not stated: by its form, or by the mark behind a statement."""
    forms = _bare(line, clause)
    if not forms:
        return False
    if forms[0] in _WORDS or forms[0] == "how" or _inverted(forms, marked=line.sentences[clause.sentence].asks):
        return True
    return _asked_for(line, clause) or line.sentences[clause.sentence].asks


def _bare(line: Line, clause: Clause) -> list[str]:
    """The forms of a clause without what leads up to it, and without the question that asks to be told."""
    words = line.words
    at = clause.start
    while at < clause.end - 1 and at - clause.start < _LONGEST_LEAD and _leads(line, at, clause):
        at += 1
    forms = [word.form for word in words[at : clause.end] if not word.mark]
    if forms[1:3] in _STRESSED or forms[1:3] == ["ever", "ever"]:  # "where on earth do I begin"
        del forms[1:3]
    for place, form in enumerate(forms[1:_FEW], 1):
        if form in _ASKED_FOR and form not in ("when", "where") and _embeds(forms[:place]):
            return forms[place:]
    return forms


def _is_tag(line: Line, clause: Clause) -> bool:
    """Whether the next clause of a sentence only asks if this one is so: "goes on the orchard, does it?"."""
    tag = next((one for one in line.clauses if one.start >= clause.end and one.sentence == clause.sentence), None)
    if tag is None or _is_told_on(line, tag):
        return False
    if any(one.start == tag.end and one.joined in CAUSES for one in line.clauses):
        return False  # "it reeks, is it | because I put no straw in?"
    forms = [word.form for word in line.words[tag.start : tag.end]]
    forms = forms[: forms.index(",")] if "," in forms else forms
    return len(forms) in (2, 3) and forms[0] in _HELPERS and forms[-1] in ("it", "they", "he", "she", "that", "this")


def _is_judged(line: Line, clause: Clause) -> bool:
    """Whether the sentence behind a clause only asks if this one is so: "it needs sugar. Any truth in it?"."""
    tag = next((one for one in line.clauses if one.start >= clause.end), None)
    return tag is not None and _is_verdict(line, tag)


def _is_verdict(line: Line, clause: Clause) -> bool:
    """Whether a clause only asks if what was said before it is so."""
    return clause.start > 0 and " ".join(_form_list(line, clause)) in _VERDICTS


def _form_list(line: Line, clause: Clause) -> list[str]:
    return [word.form for word in line.words[clause.start : clause.end] if not word.mark]


def _leads(line: Line, at: int, clause: Clause) -> bool:
    """Whether a word only leads up to what is said."""
    word = line.words[at]
    following = line.words[at + 1].form if at + 1 < clause.end else ""
    if word.form == "yes" and following == "or":
        return False
    if word.form in ("no", "one", "all", "like", "first", "second", "right", "good"):
        if word.form == "one" and following in ("of", "or"):
            return False
        return following in _LEADS or line.words[at + 1].mark or following in _HELPERS | _WORDS | {"how", "why"}
    return word.mark or word.form in _LEADS


def _embeds(forms: list[str]) -> bool:
    text = f" {' '.join(forms)} "
    return any(f" {said} " in text for said in _EMBEDDING)


def _asked_for(line: Line, clause: Clause) -> bool:
    """Whether the clause before asks for this one: "I want to know | when it is ready"."""
    if clause.joined not in _ASKED_FOR:
        return False
    before = [one for one in line.clauses if one.end == clause.start and one.sentence == clause.sentence]
    if not before:
        return False
    forms = [word.form for word in line.words[before[0].start : before[0].end] if not word.mark]
    return _embeds(forms[-4:])


def _is_last(line: Line, clause: Clause) -> bool:
    """Whether the mark behind its sentence is of this clause: the last not joined to another by "before"."""
    inside = [one for one in line.clauses if one.sentence == clause.sentence]
    while len(inside) > 1 and (inside[-1].joined in _UNDER or _form_list(line, inside[-1]) == ["not"]):
        inside.pop()
    return clause == inside[-1]


def _word_asks(forms: list[str], clause: Clause, *, marked: bool, embedded: bool) -> bool:
    """Whether what, which, who, when or where asks, and does not only join."""
    first, second = forms[0], forms[1] if len(forms) > 1 else ""
    if marked or embedded:
        return True
    if first in ("when", "where"):
        third = forms[2] if len(forms) > 2 else ""
        if second in _DO | _MODALS and third in _SUBJECTS:
            return True
        return second in _DO | _MODALS | {"is", "are", "to", "best", "next", "exactly", "about"} and not clause.joined
    if clause.joined == first:
        return False
    if first == "what":
        if second in ("a", "an"):
            return False
        if second in _PERSONS and _CLEFT & set(forms[3:-1]) and not (embedded or _LEARN & set(forms)):
            return False  # "what I do now is tip it in"
        if second in _WHAT_DOES:
            return not clause.joined
        if len(forms) > _WHAT_STOPS and forms[2] in _WHAT_DOES and second not in _PERSONS:
            return clause.joined not in _UNDER and not _CLEFT & set(forms[3:])  # "what mesh stops mice"
        return second in _HELPERS | {"if", "about", "to", "next", "now", "else"} or bool(_HELPERS & set(forms[1:4]))
    return bool(_HELPERS & set(forms[1:5])) or second == "to"


def _inverted(forms: list[str], *, marked: bool) -> bool:
    """Whether a helper stands before its subject: "is it", "do coffee grounds attract", "can't it", "is possible"."""
    if len(forms) < 2 or forms[0] not in _HELPERS:
        return len(forms) > 2 and forms[0] in ("anyone", "anybody") and forms[1] not in _HELPERS and marked
    first, second = forms[0], forms[1]
    if second == "not":
        return len(forms) > 2 and forms[2] in _SUBJECTS and first not in ("do",)
    if second in _SUBJECTS:
        return not (first in ("have", "had", "need") and second in _DETERMINERS and not marked)
    if first in ("do", "does"):
        return True
    if first in ("is", "are") and second in _JUDGED:
        return len(forms) > 2 or marked
    if first in ("is", "are", "was", "were") and second not in _STATES and _JUDGED & set(forms[2:5]):
        return True
    if first in ("is", "are") and second not in _STATES and _asks_of_noun(forms):
        return True
    if marked:
        return True
    if first in _ASKS_LEAVE and second not in _NO_SUBJECT and _MAY_DO & set(forms[2:_FEW]):
        return True  # "can tea bags go in", "would banana skin rot"
    return first in _MODALS - {"need", "must"} and second.endswith("s") and len(forms) > 2


def _asks_of_noun(forms: list[str]) -> bool:
    """Whether a noun stands behind "is", and what is asked of it: "is hay just posh straw", "is urine strong"."""
    second, rest = forms[1], forms[2:4]
    quality = second.endswith(("ing", "ed", "en", "y"))
    return not quality and len(forms) > 3 and bool(_ASKED_OF & set(rest[:1]) or (rest and rest[0] in _DETERMINERS))


def _inside(forms: list[str], *, marked: bool) -> bool:
    """Whether a question word that does not stand first asks: "for one pot of basil how many spoons"."""
    for place, form in enumerate(forms[:-1]):
        if place == 0:
            continue
        if form == "how" and forms[place + 1] in _MANNERS and not _KNOWN & set(forms[max(0, place - 3) : place]):
            return True
        if form in ("what", "which", "why") and marked and place < _FEW:
            return True
    return False

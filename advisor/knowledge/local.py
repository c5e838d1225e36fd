"""Local files laid over the shipped rules: materials, measures, names, figures, seasons and rules of a place.

A local folder is laid out as rules/ is, and holds only what `_TABLES` lists, names.toml, place.toml and files of rules.
What is local adds to what is shipped; a material, a measure, a figure, a climate, a green manure or a living mulch of
the same name replaces the figures that it gives anew. It takes no caution away: `_check_entry`, `_check_guard` and
`_check_rule` say what is refused and why.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, Final, TypeVar

from advisor.knowledge.base import LOCAL_SOURCE, NOTICE_KINDS, Knowledge, Local, Problem, Rule, subjects_of
from advisor.knowledge.conclusions import Vocabulary
from advisor.knowledge.heat_shapes import Climate
from advisor.knowledge.hints import hint
from advisor.knowledge.load import DATA_FILES, HYPHENED, Reader
from advisor.knowledge.shapes import Due, Figure, Material, Measure, Names, Notice, Place, Shape, Source
from advisor.knowledge.soil_shapes import CropFamily, GreenManure, LivingMulch

_Entry = TypeVar("_Entry", bound=Shape)

#: Files with entries that a local folder may hold, by name without .toml, each with the shape of an entry.
_TABLES: Final[Mapping[str, type[Shape]]] = {
    "sources": Source,
    "materials": Material,
    "measures": Measure,
    "figures": Figure,
    "climates": Climate,
    "green-manures": GreenManure,
    "crop-families": CropFamily,
    "living-mulches": LivingMulch,
}
_MAY_HOLD: Final = (*_TABLES, "names", "place")
#: What a shipped material stays whatever a place has measured of it: shipped rules and cautions go by these.
_KEPT_OF_MATERIALS: Final = ("name", "role", "structure", "keeps")
#: Deeds of the day of a lower order cannot wait, and are never pushed off the list by local ones.
_DUE_FROM: Final = 20


def read_local(
    base: Knowledge, folder: Path, without: Container[str] = frozenset()
) -> tuple[Knowledge, tuple[Problem, ...]]:
    """A rule base with the files of a local folder laid over it, and every fault in the form of those files.

    Args:
        without: files that are left out, by their names within the folder.
    """
    reader = _LocalReader(base, folder, without)
    return reader.knowledge(), tuple(reader.problems)


class _LocalReader(Reader):
    def __init__(self, base: Knowledge, folder: Path, without: Container[str]) -> None:
        super().__init__(folder, folder.resolve().name or "local")
        self.base, self.without = base, without
        self.files: dict[tuple[str, str], str] = {}
        self.replaced: list[tuple[str, str]] = []
        self.own_sources: frozenset[str] = frozenset()

    def knowledge(self) -> Knowledge:
        name = self._place_name()
        base = self.base
        sources = self._laid("sources", base.sources)
        self.own_sources = frozenset(set(sources) - set(base.sources))
        materials = self._laid("materials", base.materials)
        measures = self._laid("measures", base.measures)
        self._names(materials, measures)
        figures = self._laid("figures", base.figures)
        climates = self._laid("climates", base.climates)
        greens = self._laid("green-manures", base.green_manures)
        crops = self._laid("crop-families", base.crop_families)
        mulches = self._laid("living-mulches", base.living_mulches)
        groups = self._groups((*DATA_FILES, *_MAY_HOLD))
        notices = self._notices(groups, base.notices)
        self._check_notices(groups, notices)
        kinds = base.kinds
        words = Vocabulary(kinds, {kind: subjects_of(kind, kinds, materials, base.methods, notices) for kind in kinds})
        rules = [rule for file, raw in groups.items() for rule in self._rules(file, raw, words)]
        for rule in rules:
            self._check_rule(rule)
        local = Local(name, self.label, self.files, tuple(self.replaced), rules=len(rules))
        return replace(
            base,
            sources=sources,
            materials=materials,
            measures=measures,
            figures=figures,
            notices=notices,
            rules=(*base.rules, *rules),
            green_manures=greens,
            crop_families=crops,
            living_mulches=mulches,
            climates=climates,
            local=local,
        )

    # ------------------------------------------------------------ files

    def _groups(self, others: Container[str] = DATA_FILES) -> dict[str, dict[str, Any]]:
        for path in sorted(self.folder.glob("*.toml")):
            if path.stem in DATA_FILES and path.stem not in _MAY_HOLD and path.name not in self.without:
                may = ", ".join(f"{one}.toml" for one in _MAY_HOLD)
                self._fault(path.name, "", f"is not for a local folder; it may hold {may} and files of rules", "shape")
        for path in sorted(self.folder.glob("*/*.toml")):
            if path.parent.name != "materials":
                file = f"{path.parent.name}/{path.name}"
                self._fault(file, "", "is not read here; put it into the folder itself or into materials/", "shape")
        return {name: raw for name, raw in super()._groups(others).items() if raw}

    def _toml(self, name: str) -> dict[str, Any] | None:
        return None if name in self.without else super()._toml(name)

    def _place_name(self) -> str:
        raw = self._toml("place.toml") if self._is_there("place.toml") else None
        place = self._checked(Place, raw, "place.toml", "place") if raw is not None else None
        return place.name if place is not None else self.label

    def _files_of(self, table: str) -> Iterator[str]:
        if self._is_there(f"{table}.toml"):
            yield f"{table}.toml"
        if table == "materials":
            yield from (f"materials/{path.name}" for path in sorted((self.folder / table).glob("*.toml")))

    # ------------------------------------------------------------ entries

    def _laid(self, table: str, shipped: Mapping[str, _Entry]) -> dict[str, _Entry]:
        """The entries of a table: those that are shipped, and those of the local files over or behind them."""
        found = dict(shipped)
        for file in self._files_of(table):
            for key, raw in (self._toml(file) or {}).items():
                if (table, key) in self.files:
                    self._fault(file, key, f"is there twice; also in {self.files[table, key]}", "duplicate-id")
                    continue
                shape = _TABLES[table]
                if not self._entry_named_well(table, key, file) or not isinstance(raw, dict):
                    if not isinstance(raw, dict):
                        self._fault(file, key, f"write each as [{key}] with keys and values below it", "shape")
                    continue
                known = shipped.get(key)
                entry = self._checked(shape, self._over(known, raw), file, key)
                if entry is None:
                    continue
                self._check_entry(key, raw, known, entry, file)
                self.files[table, key] = f"{self.label}/{file}"
                if known is not None:
                    self.replaced.append((table, key))
                found[key] = entry  # type: ignore[assignment]
        return found

    def _entry_named_well(self, table: str, key: str, file: str) -> bool:
        if table == "sources" and not key.startswith(LOCAL_SOURCE):
            self._fault(
                file, key, f"the id of a local source begins with {LOCAL_SOURCE}: [{LOCAL_SOURCE}{key}]", "shape"
            )
            return False
        return self._name_is_good(key, file, key, HYPHENED)

    @staticmethod
    def _over(known: Shape | None, raw: dict[str, Any]) -> dict[str, Any]:
        """What a local entry says, over what is shipped under that name. A figure is replaced as a whole."""
        if known is None:
            return raw
        if isinstance(known, Figure):
            return {"guards": known.guards, **raw}
        told = known.model_dump()
        whole = {**told, **raw}
        for name in ("aliases", "traits"):
            if name in told and isinstance(raw.get(name), list):
                whole[name] = list(dict.fromkeys([*told[name], *raw[name]]))
        return whole

    def _check_entry(self, key: str, raw: dict[str, Any], known: Shape | None, entry: Shape, file: str) -> None:
        if isinstance(known, Material):
            for name in _KEPT_OF_MATERIALS:
                if name in raw and raw[name] != getattr(known, name):
                    message = f"{name} of a shipped material stays {getattr(known, name)}, since cautions go by it"
                    self._fault(
                        file, f"{key}.{name}", f"{message}; leave it out, or describe another material", "local"
                    )
        if isinstance(known, Figure) and isinstance(entry, Figure):
            self._check_guard(key, known, entry, file)
        for name, cited in _cited(entry, raw):
            if not any(one in self.own_sources for one in cited):
                place = f"{key}.{name}" if name else key
                self._cites_none(file, place)

    def _check_guard(self, key: str, known: Figure, entry: Figure, file: str) -> None:
        below = known.guards == "from below" and (entry.low < known.low or entry.typical < known.typical)
        above = known.guards == "from above" and (entry.high > known.high or entry.typical > known.typical)
        if below or above or entry.guards != known.guards:
            bound = f"at least {known.low:g}, as a rule {known.typical:g}"
            if known.guards == "from above":
                bound = f"at most {known.high:g}, as a rule {known.typical:g}"
            self._fault(
                file, key, f"this figure keeps people safe: it stays {bound}; a local one may be stricter", "local"
            )

    def _cites_none(self, file: str, place: str) -> None:
        there = ", ".join(sorted(self.own_sources)) or f"[{LOCAL_SOURCE}…] with a title in sources.toml"
        self._fault(file, place, f"cites no local source, which says whose word it is; cite {there}", "local")

    def _names(self, materials: dict[str, Material], measures: dict[str, Measure]) -> None:
        """Give materials and measures the names of names.toml."""
        file = "names.toml"
        for key, raw in ((self._toml(file) if self._is_there(file) else None) or {}).items():
            names = self._checked(Names, raw, file, key)
            if names is None:
                continue
            if key in materials:
                materials[key] = _called(materials[key], names)
            elif key in measures:
                measures[key] = _called(measures[key], names)
            else:
                known = [*materials, *measures]
                self._fault(file, key, f"no material or measure is called so; {hint(key, known)}", "shape")
                continue
            self.files["names", key] = f"{self.label}/{file}"

    # ------------------------------------------------------------ words and rules

    def _check_notices(self, groups: Mapping[str, dict[str, Any]], notices: Mapping[str, Mapping[str, Notice]]) -> None:
        for file, raw in groups.items():
            for kind in NOTICE_KINDS:
                table = raw.get(kind, {})
                for name in table if isinstance(table, dict) else ():
                    if name in self.base.notices.get(kind, {}):
                        continue  # told already: the name is taken
                    self.files[kind, name] = f"{self.label}/{file}"
                    notice = notices[kind].get(name)
                    if notice is not None and not any(one in self.own_sources for one in notice.source):
                        self._cites_none(file, f"{kind}.{name}")
                    if isinstance(notice, Due) and notice.order < _DUE_FROM:
                        message = f"order is {_DUE_FROM} or more; lower ones are kept for what cannot wait"
                        self._fault(file, f"{kind}.{name}.order", message, "local")

    def _check_rule(self, rule: Rule) -> None:
        if not any(one in self.own_sources for one in rule.source):
            self._cites_none(rule.file, rule.id)
        for then in rule.then:
            shipped_one = then.same or then.subject in self.base.notices.get(then.kind, {})
            takes_away = then.attribute == "withdrawn" or (then.kind == "cause" and then.attribute == "ruled_out")
            speaks_against = then.kind == "cause" and not isinstance(then.value, str) and then.value < 0
            if shipped_one and (takes_away or speaks_against):
                message = f"a local rule takes no shipped {then.kind} away; add a caution, a note or a step of your own"
                self._fault(rule.file, rule.id, message, "local")
            elif then.kind == "target" and then.attribute != "shift":
                message = f"target.{then.attribute} is set by shipped rules; move the window with target.shift"
                self._fault(rule.file, rule.id, message, "local")


def _called(thing: Any, names: Names) -> Any:
    return thing.model_copy(update={"aliases": tuple(dict.fromkeys((*thing.aliases, *names.says)))})


def _cited(entry: Shape, raw: Mapping[str, Any]) -> Iterator[tuple[str, tuple[str, ...]]]:
    """The sources that each thing cites which a local entry says: its own, or those of each figure."""
    if isinstance(entry, Figure):
        yield "", tuple(one.source for one in entry.published)
        return
    said: Iterable[str] = raw
    for name in said:
        value = getattr(entry, name, None)
        if isinstance(value, Figure):
            yield name, tuple(one.source for one in value.published)
    source = getattr(entry, "source", None)
    if isinstance(source, tuple):
        yield "", source

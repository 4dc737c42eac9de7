"""Every field of the job file, declared once: its table, kind, range, default and its words.

The reader, the starter job, the command line's help, the docs table and the error text are all made
from these rows. Label and help of a field lie in words/ under `site.field.<table>.<name>`.

A length's low and high are inches, whatever the job's unit. The ranges only keep slips of the
keyboard out (house rule); what a code or a guide asks is a finding, not a range.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from lapwright import tables
from lapwright.site.model import Defaults

FieldKind = Literal["length", "lengths", "number", "count", "pitch", "choice", "metal", "text", "bool", "later"]
"""`later` = known to the job file's format, not read by this version."""


class Needed:
    """Stands where a default would: the job must give it."""

    def __repr__(self) -> str:
        return "NEEDED"


NEEDED = Needed()

TABLES = ("job", "roof", "panel", "site", "defaults", "shop", "opening", "deviation", "tool", "stock")
LISTS = {"opening": 60, "deviation": 200, "tool": 20, "stock": 60}
"""Tables that may stand more than once, and how often at most."""

RECTANGLES = ("masonry-chimney", "framed-chimney", "curb", "skylight", "wall")
RULE_SETS = ("irc-2021", "ibc-2021", "obc-2012", "nz-cop-3", "regional-24", "house")
DEVIATIONS = (
    "no-sealant", "no-tape", "reversed-lap", "short-hem", "pan-cut", "screw-in-water", "open-corner",
)  # fmt: skip
SIDES = ("left", "right", "upslope", "downslope")


@dataclass(frozen=True, slots=True)
class Field:
    """One field of the job file.

    Attributes:
        low, high: Range, both ends allowed; characters for a text. In `unit`.
        unit: "in" for a length, else the unit a bare number has ("in/h", "mph", "deg", "rise/12").
        default: Value when left out; NEEDED = may not be left out; None = worked out from the job.
        attr: The dataclass field it fills, when that has another name.
        kinds: The kinds of opening that take it; none = all.
    """

    table: str
    name: str
    kind: FieldKind
    low: float = 0.0
    high: float = 0.0
    unit: str = ""
    default: Any = NEEDED
    choices: tuple[str, ...] = ()
    attr: str = ""
    kinds: tuple[str, ...] = ()

    @property
    def fills(self) -> str:
        """The dataclass field it fills."""
        return self.attr or self.name

    @property
    def words(self) -> str:
        """Key of its words: `<words>.label` and `<words>.help`."""
        return f"site.field.{self.table}.{self.name}"

    def allowed(self) -> tuple[str, ...]:
        """The words it may be, for a choice or a metal; none for the other kinds."""
        return tuple(tables.metals()) if self.kind == "metal" else self.choices


def _length(table: str, name: str, low: float, high: float, default: Any = NEEDED, **more: Any) -> Field:
    return Field(table, name, "length", low, high, "in", default, **more)


def _number(table: str, name: str, low: float, high: float, unit: str, default: Any = NEEDED) -> Field:
    return Field(table, name, "number", low, high, unit, default)


def _choice(table: str, name: str, default: Any, *choices: str) -> Field:
    return Field(table, name, "choice", default=default, choices=choices)


def _measure(name: str, low: float, high: float, unit: str = "in") -> Field:
    """A row of [defaults]; its default is the dataclass's, so it is written once."""
    default = getattr(Defaults(), name)
    kind: FieldKind = "length" if unit == "in" else "number"
    return Field("defaults", name, kind, low, high, unit, default)


JOB = (
    Field("job", "name", "text", 1, 80),
    _choice("job", "units", "in", "in", "mm"),
)
ROOF = (
    Field("roof", "pitch", "pitch", 0.25, 24, "rise/12", attr="rise"),
    _length("roof", "eave", 24, 6000),
    _length("roof", "slope", 24, 3000),
    _choice("roof", "left_edge", "rake", "rake", "wall"),
    _choice("roof", "right_edge", "rake", "rake", "wall"),
    _choice("roof", "upper_edge", "ridge", "ridge", "wall"),
    _choice("roof", "work", "new", "new", "existing"),
    Field("roof", "outline", "later", default=None),
    Field("roof", "edges", "later", default=None),
)
PANEL = (
    _choice("panel", "seam", "snap", "snap", "single-fold", "double-fold"),
    _choice("panel", "fixing", None, "nailing-flange", "clip"),
    _length("panel", "coverage", 8, 36),
    _length("panel", "rib_height", 0.5, 4),
    _length("panel", "first_rib", 0, 36, None),
    _choice("panel", "lay", "left-to-right", "left-to-right", "right-to-left"),
    Field("panel", "metal", "metal", default="steel-24"),
)
SITE = (
    _number("site", "rain", 0.1, 40, "in/h", 8.0),
    _length("site", "roof_above", 0, 3000, 0.0),
    _number("site", "wind_speed", 50, 300, "mph", 115.0),
    _choice("site", "rule_set", "irc-2021", *RULE_SETS),
    Field("site", "snow", "bool", default=False),
)
OPENING = (
    Field("opening", "name", "text", 1, 60),
    _choice("opening", "kind", NEEDED, *RECTANGLES, "pipe"),
    _length("opening", "left", 0, 6000),
    _length("opening", "up", 0, 3000),
    _length("opening", "width", 2, 1200, kinds=RECTANGLES),
    _length("opening", "length", 2, 1200, kinds=RECTANGLES),
    _length("opening", "height", 1, 1200),
    _choice("opening", "face", None, "plumb", "square"),
    _choice("opening", "method", "auto", "auto", "flat-pan", "cricket"),
    _length("opening", "diameter", 0.5, 60, kinds=("pipe",)),
    Field("opening", "hot", "bool", default=False, kinds=("pipe",)),
    Field("opening", "tapes", "later", default=None),
)
DEVIATION = (
    Field("deviation", "opening", "text", 1, 60),
    _choice("deviation", "what", NEEDED, *DEVIATIONS),
    _choice("deviation", "where", "", *SIDES),
)
DEFAULTS = (
    _measure("side_clear", 0, 36),
    _measure("rib_face", 0.0625, 1.5),
    _measure("gap", 0, 1),
    _measure("extent", 4, 60),
    _measure("cross_slope", 1, 24, "rise/12"),
    _measure("ridge_slope", -6, 0, "rise/12"),
    _measure("side_run", 2, 48),
    _measure("cleat_foot", 0, 24),
    _measure("steepest", 0, 75, "deg"),
    _measure("overrun", 1, 24),
    _measure("setback", 2, 48),
    _measure("upstand", 1, 24),
    _measure("apron_flange", 2, 24),
    _measure("apron_past", 0, 24),
    _measure("apron_tab", 0.25, 4),
    _measure("dress_flat", 1, 24),
    _measure("side_flange", 1, 24),
    _measure("side_lap", 1, 24),
    _measure("side_past", 1, 24),
    _measure("side_tab", 0.25, 4),
    _measure("hem", 0.25, 2),
    _measure("turn_up", 0.25, 4),
    _measure("rib_turn_up", 0.25, 4),
    _measure("opened", 0, 15, "deg"),
    _measure("corner_tab", 0.125, 2),
    _measure("corner_cut", 0.125, 3),
    _measure("stop_hole", 0.03125, 0.5),
    _measure("return_over", 0.25, 4),
    _measure("patch", 1, 12),
    _measure("plate", 1, 12),
    _measure("membrane_wide", 6, 36),
    _measure("valley_flange", 8, 36),
    _measure("valley_setback", 3, 24),
    _measure("ridge_leg", 0.5, 3),
    _measure("ridge_lap", 2, 12),
    _measure("apex_plate", 2, 12),
    _measure("framing_clear", 0, 36),
    _measure("membrane_up", 2, 24),
    _measure("cleat_base", 0.75, 6),
    _measure("web", 0.0625, 2),
    _measure("lip", 0.25, 3),
    _measure("tape", 0, 0.5),
    _measure("rib_stop", 0, 2),
    _measure("upper_hem", 0.25, 3),
    _measure("slack", 0, 3),
    _measure("eave_hem", 0.25, 3),
    _measure("hook_strip", 0.5, 6),
    _measure("cover", 1, 12),
    _measure("reglet", 0.25, 4),
    _measure("reglet_above", 0, 24),
    _measure("behind_wrap", 0.5, 12),
    _measure("bend_radius", 0, 12, "x t"),
    _measure("pipe_clear", 1, 24),
    _choice("defaults", "sleeve", Defaults().sleeve, "cylinder", "cone"),
    _measure("sleeve_gap", 0, 2),
    _measure("flue_gap", 0.5, 6),
    _measure("sleeve_lap", 0.25, 3),
    _measure("foot_tab", 0.375, 3),
    _measure("collar", 1, 6),
    _measure("plate_lap", 2, 12),
    _measure("hood_run", 3, 12),
    _measure("stock_width", 12, 120),
    Field("defaults", "flashing_metal", "metal", default=Defaults().flashing_metal),
    Field("defaults", "counter_metal", "metal", default=Defaults().counter_metal),
)
SHOP = (
    _choice("shop", "kit", "small-shop", *tables.rows("brakes")["kits"]),
    _choice("shop", "cuts", "shear", "shear", "snips"),
    Field("shop", "turn", "bool", default=True),
    _number("shop", "labour_rate", 0, 1000, "1/h", 60.0),
    _number("shop", "waste", 0, 100, "%", 10.0),
    _number("shop", "markup", 0, 300, "%", 20.0),
    _number("shop", "tax", 0, 50, "%", 0.0),
    Field("shop", "currency", "text", 1, 8, default="$"),
)
TOOL = (
    Field("tool", "name", "text", 1, 40),
    _choice("tool", "like", NEEDED, *tables.rows("brakes")["tools"]),
    _length("tool", "length", 0, 600, None),
    _length("tool", "throat", 1, 600, None),
    _length("tool", "land", 0.0625, 6, None),
    _length("tool", "grip", 0.0625, 6, None),
    _number("tool", "nose_deg", 15, 90, "deg", None),
    _length("tool", "opening", 0.0625, 12, None),
    Field("tool", "fingers", "lengths", 0.25, 60, "in", default=None),
    _length("tool", "finger_depth", 0, 24, None),
    _length("tool", "width", 0.25, 36, None),
    _length("tool", "depth", 0, 36, None),
    _length("tool", "least", 0, 6, None),
    _number("tool", "most_deg", 1, 180, "deg", None),
)
STOCK = (
    Field("stock", "name", "text", 1, 40),
    Field("stock", "metal", "metal"),
    _choice("stock", "form", "sheet", "sheet", "roll", "offcut"),
    _length("stock", "width", 1, 120),
    _length("stock", "length", 1, 24000),
    Field("stock", "quantity", "count", 1, 9999, default=1),
    _number("stock", "price", 0, 1e6, "money", None),
)
FIELDS: tuple[Field, ...] = (
    *JOB, *ROOF, *PANEL, *SITE, *DEFAULTS, *SHOP, *OPENING, *DEVIATION, *TOOL, *STOCK,
)  # fmt: skip


@cache
def fields_of(table: str) -> dict[str, Field]:
    """The fields a table takes, by name; an opening also takes every one of [defaults]."""
    own = {row.name: row for row in FIELDS if row.table == table}
    return own | {row.name: row for row in DEFAULTS} if table == "opening" else own

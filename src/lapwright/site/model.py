"""What the tape said: the roof, its panels, the weather and the openings. Lengths in inches."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from typing import Literal

Edge = Literal["rake", "wall"]
Kind = Literal["masonry-chimney", "framed-chimney", "curb", "skylight", "pipe", "wall"]


@dataclass(frozen=True, slots=True)
class Roof:
    """The roof plane: x along the eave to the right, y up the slope on the metal.

    rise: rise per 12 of level run. [in/12in]  eave, slope: lengths on the roof. [in]
    """

    rise: float
    eave: float
    slope: float
    left_edge: Edge = "rake"
    right_edge: Edge = "rake"
    upper_edge: Literal["ridge", "wall"] = "ridge"
    work: Literal["new", "existing"] = "new"

    @property
    def theta(self) -> float:
        """Slope of the plane from level. [rad]"""
        return math.atan2(self.rise, 12.0)


@dataclass(frozen=True, slots=True)
class Panel:
    """The panel that is laid. Lengths in inches; first_rib None = chosen by the layout."""

    coverage: float
    rib_height: float
    seam: Literal["snap", "single-fold", "double-fold"] = "snap"
    fixing: Literal["nailing-flange", "clip"] = "nailing-flange"
    first_rib: float | None = None
    lay: Literal["left-to-right", "right-to-left"] = "left-to-right"
    metal: str = "steel-24"

    @property
    def folded(self) -> bool:
        """Is the seam folded by hand (single or double), not snapped?"""
        return self.seam != "snap"


@dataclass(frozen=True, slots=True)
class Weather:
    """Rain [in/h], roof above that drains here [in], wind [mph], the rule set, snow country or not."""

    rain: float = 8.0
    roof_above: float = 0.0
    wind_speed: float = 115.0
    rule_set: str = "irc-2021"
    snow: bool = False


@dataclass(frozen=True, slots=True)
class Defaults:
    """The measures of domain practice that a job or an opening may change. House rules unless cited.

    None means "worked out from the job" (see detail/measures.py). Lengths in inches, angles in degrees.
    """

    side_clear: float = 4.0
    rib_face: float | None = None
    gap: float = 0.125
    extent: float | None = None
    cross_slope: float | None = None
    ridge_slope: float = 0.0
    valley_flange: float = 12.0
    valley_setback: float = 6.0
    ridge_leg: float = 1.0
    ridge_lap: float = 3.0
    apex_plate: float = 4.0
    framing_clear: float | None = None
    side_run: float = 7.0
    cleat_foot: float = 4.0
    steepest: float = 60.0
    overrun: float = 6.0
    setback: float = 9.0
    upstand: float = 8.0
    apron_flange: float = 6.0
    apron_past: float = 5.0
    apron_tab: float = 1.0
    dress_flat: float = 7.0
    side_flange: float = 4.0
    side_lap: float = 4.0
    side_past: float = 6.0
    side_tab: float = 1.0
    hem: float = 0.5
    turn_up: float = 1.0
    rib_turn_up: float | None = None
    opened: float = 2.5
    corner_tab: float = 0.5
    corner_cut: float = 0.625
    stop_hole: float = 0.125
    return_over: float = 1.0
    patch: float = 2.0
    plate: float = 3.0
    membrane_wide: float = 18.0
    membrane_up: float = 6.0
    cleat_base: float = 1.5
    web: float = 0.25
    lip: float = 1.0
    tape: float = 0.09375
    rib_stop: float = 0.1875
    upper_hem: float = 1.0
    slack: float = 0.25
    eave_hem: float = 1.0
    hook_strip: float = 1.5
    cover: float = 4.0
    reglet: float = 1.25
    reglet_above: float = 1.0
    behind_wrap: float = 2.0
    bend_radius: float = 2.0
    stock_width: float = 48.0
    flashing_metal: str = ""
    counter_metal: str = ""
    pipe_clear: float = 3.0
    sleeve: Literal["cylinder", "cone"] = "cylinder"
    sleeve_gap: float = 0.125
    flue_gap: float = 1.0
    sleeve_lap: float = 0.75
    foot_tab: float = 0.75
    collar: float = 2.0
    plate_lap: float = 4.0
    hood_run: float = 5.0


@dataclass(frozen=True, slots=True)
class Opening:
    """A hole in the roof. left: x of its left side; up: y of its downslope face; length along the slope.

    For a pipe, left and up give the centre until `rim` is taken; hot: it carries hot gas. All inches.
    """

    name: str
    kind: Kind
    left: float
    up: float
    width: float
    length: float
    height: float
    face: Literal["plumb", "square"]
    method: Literal["auto", "flat-pan", "cricket"] = "auto"
    diameter: float | None = None
    hot: bool = False
    measures: Defaults = field(default_factory=Defaults)

    @property
    def right(self) -> float:
        """x of its right side. [in]"""
        return self.left + self.width

    @property
    def back(self) -> float:
        """y of its upslope (back) face at the deck. [in]"""
        return self.up + self.length

    @property
    def framed(self) -> bool:
        """Do its walls have a water-resistive layer that counterflashing goes behind?"""
        return self.kind in ("framed-chimney", "wall")

    def rim(self, theta: float) -> Opening:
        """A pipe by the rectangle round its hole in the roof; any other opening as it is.

        A plumb pipe's hole is an ellipse: diameter across, diameter / cos(theta) along the slope.

        Args:
            theta: Slope of the roof. [rad]
        """
        if self.kind != "pipe":
            return self
        along = self.width / math.cos(theta if self.face == "plumb" else 0.0)
        return replace(self, left=self.left - self.width / 2, up=self.up - along / 2, length=along)


@dataclass(frozen=True, slots=True)
class Deviation:
    """Work as built or as feared (read now, used by the leak audit)."""

    opening: str
    what: str
    where: str = ""


@dataclass(frozen=True, slots=True)
class Shop:
    """The shop that does the work: its tools, how it cuts, what it asks for it.

    kit: a row of kits in data/brakes.toml. cuts: "shear" = right across a sheet, "snips" = along true shapes.
    turn: may a blank lie either way on the sheet? labour_rate: [money/h]. waste, markup, tax: [%]
    """

    kit: str = "small-shop"
    cuts: Literal["shear", "snips"] = "shear"
    turn: bool = True
    labour_rate: float = 60.0
    waste: float = 10.0
    markup: float = 20.0
    tax: float = 0.0
    currency: str = "$"


@dataclass(frozen=True, slots=True)
class OwnTool:
    """A bending tool as the shop has it: the packaged tool it is like, and what differs. None = as that one.

    Lengths in inches, angles in degrees; see data/brakes.toml for what each means.
    """

    name: str
    like: str
    length: float | None = None
    throat: float | None = None
    land: float | None = None
    grip: float | None = None
    nose_deg: float | None = None
    opening: float | None = None
    fingers: tuple[float, ...] | None = None
    finger_depth: float | None = None
    width: float | None = None
    depth: float | None = None
    least: float | None = None
    most_deg: float | None = None


@dataclass(frozen=True, slots=True)
class Stock:
    """Metal at hand: sheets, a roll, an offcut or lengths to cut trims from. price: one of them. [money]

    width: across the sheet or roll. [in] length: of one sheet, or of what is left on the roll. [in]
    """

    name: str
    metal: str
    width: float
    length: float
    form: Literal["sheet", "roll", "offcut"] = "sheet"
    quantity: int = 1
    price: float | None = None


@dataclass(frozen=True, slots=True)
class Site:
    """A whole job as measured."""

    name: str
    units: Literal["in", "mm"]
    roof: Roof
    panel: Panel
    weather: Weather = field(default_factory=Weather)
    openings: tuple[Opening, ...] = ()
    deviations: tuple[Deviation, ...] = ()
    shop: Shop = field(default_factory=Shop)
    tools: tuple[OwnTool, ...] = ()
    stock: tuple[Stock, ...] = ()

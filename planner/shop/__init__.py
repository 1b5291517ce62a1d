"""The shop: everything about it that a plan rests on, as its own sheets tell it.

stations    what each station does and how it is run    Stations, Wheels
hours       when work is done, and by whom              Hours, People
changes     what is mounted, and minutes to change it   Changeovers, Tooling, Mounted
finishing   belts, recipes, rails, good settings        Belts, Recipes, Rails, and the log
house       general habits                              Settings
whole       the `Shop` of all these
"""

from planner.shop.changes import (
    ChangeoverRow,
    Mounted,
    Tool,
    ToolKind,
    What,
)
from planner.shop.finishing import (
    Belt,
    GoodSetting,
    Rail,
    Recipe,
    RecipeStep,
)
from planner.shop.hours import HoursKind, HoursRow, Person
from planner.shop.house import House
from planner.shop.stations import (
    KIND_OF_STEP,
    BenderSettings,
    FinisherSettings,
    NotcherSettings,
    SawSettings,
    Station,
    StationKind,
    Wheels,
)
from planner.shop.whole import Shop

__all__ = [
    "KIND_OF_STEP",
    "Belt",
    "BenderSettings",
    "ChangeoverRow",
    "FinisherSettings",
    "GoodSetting",
    "HoursKind",
    "HoursRow",
    "House",
    "Mounted",
    "NotcherSettings",
    "Person",
    "Rail",
    "Recipe",
    "RecipeStep",
    "SawSettings",
    "Shop",
    "Station",
    "StationKind",
    "Tool",
    "ToolKind",
    "What",
    "Wheels",
]

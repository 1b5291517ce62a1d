"""The Stock sheet."""

from __future__ import annotations

from planner_io.workbook.columns import Column, Kind, SheetSpec
from planner_io.workbook.words import FAMILY_WORDS, SURFACE_WORDS

STOCK = SheetSpec(
    "Stock",
    "Sticks on the rack, sticks that can be bought, and remnants worth using.",
    (
        Column(
            "key",
            "Stock",
            Kind.TEXT,
            "A name of its own for each row; a remnant's tag.",
            (
                "Stock key, Stock number, Key, Tag, Item, Item number, Stock item, SKU, Stock "
                "code, Code, ID, Stock ID, Artikel, Artikelnummer, Réf, Référence, Article, "
                "Artículo"
            ),
            example="EXAMPLE",
        ),
        Column(
            "material",
            "Material",
            Kind.TEXT,
            "Family, grade or both, as in Orders.",
            "Family, Material family, Mat, Matl, Mtl, Mtrl, Material number, Tube type, Alloy, "
            "Metal, Werkstoff, Werkst, Werkstoffnummer, Werkstoffnr, Matière, Aleación",
            required=True,
            or_else="grade",
            choices=FAMILY_WORDS,
            example="stainless",
        ),
        Column(
            "grade",
            "Grade",
            Kind.TEXT,
            "Grade, where the material column gives the family alone.",
            "Material grade, Tube grade, Steel grade, Grd, Spec, Specification, Standard, Temper, "
            "Güte, Nuance, Calidad",
            example="304",
        ),
        Column(
            "od",
            "OD",
            Kind.OD,
            "Outside diameter or pipe size.",
            (
                "Outside diameter, Outer diameter, Diameter, Dia, Tube OD, Size, Tube size, "
                "Tube, Pipe size, Pipe, NPS, IPS, Nominal size, Nominal pipe size, DN, O D, OD x "
                "wall, OD and wall, Tube size and wall, Section, Tube section, Diam, D, Ø ext, "
                "Diamètre ext, Diamètre extérieur, Diamètre, Rohr, Durchmesser, Außendurchmesser, "
                "Ø außen, Rohr Ø außen, Abmessung, Diámetro exterior, Diámetro, Tubo"
            ),
            required=True,
            never="id inside inner internal bore tol tolerance",
            example="1-1/2",
        ),
        Column(
            "wall",
            "Wall",
            Kind.WALL,
            "Wall thickness, gauge or schedule. Blank where the OD names it.",
            "Wall thickness, WT, Thickness, Thk, Thick, Gauge, Gage, Ga, SWG, BWG, Schedule, Sch, "
            "T, S, Wandstärke, Wanddicke, Wand, Wandst, Wst, Épaisseur, Espesor, Pared, Ép, Esp",
            example=".065",
        ),
        Column(
            "surface",
            "Surface",
            Kind.CHOICE,
            "How it comes in. Blank: scaled for carbon steel, bright for the rest. It may be oiled "
            "besides (bright, oiled); oiled alone is as blank.",
            "Incoming surface, Condition, Surface condition, Mill surface",
            choices=SURFACE_WORDS,
            example="bright",
        ),
        Column(
            "length",
            "Length",
            Kind.LENGTH,
            "Length of one stick.",
            "Stick length, Stick, Stock length, Bar length, Len, Lg, Lgth, Stick lg, Length each, "
            "Länge, Longueur, Longitud, Largo",
            required=True,
            never="total min max tol tolerance",
            example="20 ft",
        ),
        Column(
            "price",
            "Price",
            Kind.MONEY,
            "Price of one stick; a header such as Price/ft or Price/m counts by length. Blank: "
            "counted by weight.",
            "Cost, Price each, Unit price, Price per stick, Stick price, Cost each, Price stick, "
            "Preis, Stückpreis, Prix, Precio",
            example="98.40",
        ),
        Column(
            "count",
            "Count",
            Kind.WHOLE,
            "Sticks that are there. Blank or as needed: bought without limit.",
            "Qty, Quantity, On hand, Have, In stock, Sticks, Pcs, Pieces, Number, Available, "
            "Menge, Anzahl, Stück, Quantité, Cantidad, Qté, Stk, Cant",
            example="6",
        ),
        Column(
            "arrives",
            "Arrives",
            Kind.DATE,
            "First day on which sticks on order can be used. Blank: they are there.",
            "Arrival, Arrival date, ETA, Due in, Expected, Available from, From",
            example="",
        ),
        Column(
            "lead_days",
            "Lead days",
            Kind.WHOLE,
            "For sticks to buy: days until they are there.",
            "Lead time, Lead, Lead time days, Delivery days, Days",
            example="0",
        ),
        Column(
            "remnant",
            "Remnant",
            Kind.YES_NO,
            "yes for a drop kept from an earlier week.",
            "Is remnant, Drop, Offcut, Off cut, Rem",
            choices=("yes", "no"),
            example="no",
        ),
        Column(
            "finished",
            "Finished",
            Kind.TEXT,
            "Finish that it has already (a finished remnant), as named in Recipes.",
            "Finished to, Finish, Recipe, Finish done",
            example="",
        ),
        Column(
            "owner",
            "Kept for",
            Kind.TEXT,
            "Customer who brought it, as in Orders: only order lines of that customer are cut from "
            "it, and they from nothing else. Blank: the shop's own.",
            "Owner, Owned by, Whose, Reserved for, Customer, Cust, Customer tube, Property of, "
            "Allocated to, Kunde, Client, Cliente",
            example="",
        ),
        Column(
            "location",
            "Location",
            Kind.TEXT,
            "Where it lies.",
            "Rack, Place, Bin, Where, Storage, Loc, Lagerplatz, Lagerort, Ort, Emplacement, "
            "Ubicación",
            example="Rack B",
        ),
    ),
    "Inventory, Stock list, Tube stock, Sticks, Material stock, On hand, Remnants, Rack, "
    "Tube rack, Lager, Bestand, Lagerbestand, Existencias, Inventario",
)

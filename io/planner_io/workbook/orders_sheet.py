"""The Orders sheet."""

from __future__ import annotations

from planner_io.workbook.columns import Column, Kind, SheetSpec
from planner_io.workbook.words import (
    FAMILY_WORDS,
    LENGTH_IS_WORDS,
    PRIORITY_WORDS,
    ROUTE_WORDS,
    SURFACE_WORDS,
    TWIST_WORDS,
)

ORDERS = SheetSpec(
    "Orders",
    "One row for each part that a customer ordered.",
    (
        Column(
            "order",
            "Order",
            Kind.TEXT,
            "Your order or job number. Left blank, it is the one of the row above.",
            (
                "Order number, Order ID, Ord, Ord number, Job, Job number, Work order, WO, WO "
                "number, Sales order, SO, PO, PO number, Customer PO, Cust PO, Ref, Reference, "
                "Order ref, Our ref, Your ref, Ticket, Traveler, Traveller, Project, Project "
                "number, Kit, Kit number, Hull, Hull number, Chassis, Auftrag, "
                "Auftragsnummer, Auftragsnr, Auftr Nr, Projekt, Bestellung, Bestellnummer, "
                "Commande, N° commande, N° cde, Cde, Pedido, N° pedido"
            ),
            required=True,
            never="date total value line pc piece",
            example="EXAMPLE",
        ),
        Column(
            "line",
            "Line",
            Kind.TEXT,
            "Number of the line within the order. Left blank, lines are counted.",
            "Line number, Ln, Item, Item number, Pos, Position, Order line, Ligne, Repère, Rep, "
            "Línea",
            never="total value price",
            example="1",
        ),
        Column(
            "customer",
            "Customer",
            Kind.TEXT,
            "Who ordered it.",
            (
                "Client, Cust, Customer name, Account, For, Sold to, Ship to, Bill to, Buyer, "
                "Ordered by, Kunde, Cliente"
            ),
            never="date due po order item part want wanted req requested required",
            example="Your customer",
        ),
        Column(
            "part",
            "Part",
            Kind.TEXT,
            "Part name or number; the Bends sheet refers to it.",
            (
                "Part number, Part name, Mk, Mk number, Drawing, Drawing number, Dwg, Dwg number, "
                "Drg, Drg number, Part description, Description, Desc, Mark, Piece mark, Part ID, "
                "P/N, PN, Component, Member, Tube name, Tube number, Tube mark, Bezeichnung, "
                "Benennung, Teil, Zeichnung, Désignation, Designación, Referencia, Descripción, "
                "Denominación, Libellé, Artikel, Artikelbezeichnung"
            ),
            never="weight cost price family date",
            example="Rail post",
        ),
        Column(
            "quantity",
            "Quantity",
            Kind.WHOLE,
            "How many pieces.",
            (
                "Qty, Pcs, Pieces, Count, Number of pieces, Ea, Each, Qty ordered, Order qty, "
                "Quantity ordered, How many, Qty pcs, Amount, Ordered, No off, No of pcs, Number "
                "off, Qty ord, No reqd, No req d, No required, Qty reqd, Qty req d, Qty required, "
                "Menge, Anzahl, Anz, Stück, Stückzahl, Quantité, Pièces, Cantidad, Piezas, Qté, "
                "Stk, Stck, Cant, Uds, Unidades, Nb, Nbre, Nombre, Pces, Nos, Off, Tot qty, Reqd, "
                "Req d"
            ),
            required=True,
            or_else="open",
            never="hand stock rack date cut stick per orig original old prev previous next",
            example="12",
        ),
        Column(
            "open",
            "Still to make",
            Kind.WHOLE,
            "Pieces of Quantity that are still to make. Blank: those that Done leaves.",
            (
                "Balance, Balance due, Qty open, Open quantity, Open qty, Open, Qty due, Qty left, "
                "Qty remaining, Remaining, Remaining qty, To make, To do, Outstanding, Qty "
                "outstanding, Balance qty, Qty balance, Qty to make, Backorder, Qty backordered, "
                "Bal, Bal due, Bal qty, Qty bal, BO, B O, Qty BO, BO qty, Rem, Qty rem, Offen, "
                "Offene Menge, Restmenge, Reste, Pendiente"
            ),
        ),
        Column(
            "done",
            "Done",
            Kind.WHOLE,
            "Pieces that are made already; yes, or the day, where all are.",
            (
                "Qty done, Done so far, Made, Qty made, Made so far, Qty complete, Qty completed, "
                "Shipped, Qty shipped, Shipped qty, Delivered, Qty delivered, Produced, Qty "
                "produced, Sent, Qty sent, Already sent, Dispatched, Despatched, Percent done, "
                "Ship d, Shp d, Shp qty, Shpd, Qty ship d, Qty shpd, Qty shp d, Del d, Deld, Qty "
                "del d, Compl, Qty compl, Geliefert, Erledigt, Livré, Entregado"
            ),
        ),
        Column(
            "complete",
            "Complete",
            Kind.YES_NO,
            "yes, or the day, where all pieces are made.",
            "Completed, Closed, All done, Is complete, Percent complete",
        ),
        Column(
            "material",
            "Material",
            Kind.TEXT,
            "Family, grade or both: carbon, 304, 4130, 6061-T6, A500 Gr B, DOM.",
            "Family, Material family, Mat, Matl, Mtl, Mtrl, Material type, Material number, Alloy, "
            "Metal, Tube material, Tube type, Werkstoff, Werkst, Werkstoffnummer, Werkstoffnr, "
            "Matière, Aleación",
            required=True,
            or_else="grade",
            never="cost due eta hand date",
            choices=FAMILY_WORDS,
            example="stainless",
        ),
        Column(
            "grade",
            "Grade",
            Kind.TEXT,
            "Grade, where the material column gives the family alone.",
            "Material grade, Tube grade, Steel grade, Grd, Spec, Specification, Standard, Alloy "
            "grade, Temper, Güte, Nuance, Calidad",
            example="304",
        ),
        Column(
            "od",
            "OD",
            Kind.OD,
            "Outside diameter: 1-1/2, 38.1 mm, or a pipe size such as 1-1/4 sch 40.",
            (
                "Outside diameter, Outer diameter, Diameter, Dia, Tube OD, Size, Tube size, "
                "Tube, Pipe size, Pipe, NPS, IPS, Nominal size, Nominal pipe size, DN, O D, OD x "
                "wall, OD and wall, Tube size and wall, Section, Tube section, Diam, D, Ø ext, "
                "Diamètre ext, Diamètre extérieur, Diamètre, Rohr, Durchmesser, Außendurchmesser, "
                "Ø außen, Rohr Ø außen, Abmessung, Abmessungen, Rohr Ø x Wand, "
                "Ø x Wand, Rohr x Wand, Ø x s, Ø x ép, Tube Ø x ép, Ø x espesor, Diámetro "
                "exterior, Diámetro, Tubo"
            ),
            required=True,
            never="id inside inner internal bore hole pitch header branch post tol tolerance grade "
            "finish length lg",
            example="1-1/2",
        ),
        Column(
            "wall",
            "Wall",
            Kind.WALL,
            "Wall thickness: .065, 1.65 mm, 16 ga, sch 40. Blank where the OD names it.",
            "Wall thickness, WT, Thickness, Thk, Thick, Gauge, Gage, Ga, SWG, BWG, Tube wall, "
            "Schedule, Sch, T, S, Wandstärke, Wanddicke, Wand, Wandst, Wst, Épaisseur, Espesor, "
            "Pared, Ép, Esp",
            never="date scheduled mount tol tolerance length min",
            example=".065",
        ),
        Column(
            "surface",
            "Surface",
            Kind.CHOICE,
            "How the tube comes in. Blank: as in Stock, else scaled for carbon steel, bright for "
            "the rest. It may be oiled besides (bright, oiled); oiled alone is as blank.",
            (
                "Incoming surface, Surface in, Incoming, Tube surface, Mill surface, Surface "
                "condition, Condition, Incoming condition"
            ),
            never="area",
            choices=SURFACE_WORDS,
            example="bright",
        ),
        Column(
            "recipe",
            "Finish",
            Kind.TEXT,
            "Name of a finish in Recipes, or none; or P180 where one alone ends with that grade.",
            (
                "Finish recipe, Recipe, Surface finish, Finishing, Polish, Required finish, Final "
                "finish, Fin, Prep, Finish prep, Surface prep, Surface required, "
                "Surface treatment, Treatment, Grind, Brush, Linish, Oberfläche, Schliff, "
                "Finition, Polissage, Acabado, Pulido"
            ),
            never="date hour hr start by area inside int id paint powder cost weld end edge",
            example="Satin P180",
        ),
        Column(
            "grit",
            "Grit",
            Kind.TEXT,
            "Last grit of the finish, where Finish does not say it: Satin with 180 is Satin P180. "
            "Beside a finish that names its recipe it must be that of the recipe's last belt.",
            (
                "Grain, Grit size, Grain size, Grit number, Final grit, Last grit, Finish grit, "
                "Grit finish, Required grit, Polish grit, Polishing grit, Brush grit, Belt grit, "
                "Körnung, Korn, Grano"
            ),
            never="start first incoming cost",
        ),
        Column(
            "length",
            "Length",
            Kind.LENGTH,
            "Length of a piece: 46-13/16, 5' 2-3/8\", 1190 mm. Blank for a part in Bends.",
            (
                "Cut length, Piece length, Part length, Len, Lg, Lgth, Lth, OAL, Overall length, "
                "Overall, Length each, L, Cut, Cut to, Cut at, Cut size, Cut len, Cut lg, Cut L, "
                "Saw length, Saw to, Blank, Blank length, Blank len, Blank lg, Blank L, Length of "
                "blank, Developed length, Dev length, Unbent length, Gestreckte Länge, Longueur "
                "développée, Finished length, Fin length, Tube length, Tube lg, Dim, Länge, "
                "Zuschnitt, Zuschnittlänge, Schnittlänge, Longueur, Longueur de coupe, Longitud, "
                "Long, Largo, Corte"
            ),
            never="date by total stick bar stock weld tol tolerance min max list number angle qty "
            "quantity pc height width",
            example="36-1/2",
        ),
        Column(
            "length_is",
            "Length is",
            Kind.CHOICE,
            "cut: long point to long point; axis to axis: between the axes of the tubes that "
            "its saddled ends sit on; bent: from Bends; blank: before bending, grip and trim "
            "included.",
            (
                "Length type, Length measured, Measured, Length basis, Dimension type, Length "
                "kind, Measure"
            ),
            choices=LENGTH_IS_WORDS,
            example="cut",
        ),
        Column(
            "end_1",
            "End 1",
            Kind.TEXT,
            "square, mitre 45, or saddle 1-1/2 @ 90 (the OD it sits on, the angle between the "
            "tubes).",
            (
                "End A, First end, Left end, L end, LH end, End cut 1, Cut 1, End one, Near end, "
                "Cope A, Cope 1, Notch A, Notch 1, Mitre 1, Miter 1, Mitre A, Miter A, End prep A, "
                "End prep 1, End detail 1, Ende 1, Ende A, Extremo 1, Extremo A, Extrémité 1, "
                "Extrémité A, Bout 1, Bout A"
            ),
            example="square",
        ),
        Column(
            "end_2",
            "End 2",
            Kind.TEXT,
            "The other end, likewise.",
            (
                "End B, Second end, Right end, R end, RH end, End cut 2, Cut 2, End two, Far end, "
                "Other end, Cope B, Cope 2, Notch B, Notch 2, Mitre 2, Miter 2, Mitre B, Miter B, "
                "End prep B, End prep 2, End detail 2, Ende 2, Ende B, Extremo 2, Extremo B, "
                "Extrémité 2, Extrémité B, Bout 2, Bout B"
            ),
            example="saddle 1-1/2 @ 90",
        ),
        Column(
            "ends",
            "Both ends",
            Kind.TEXT,
            "The cut of both ends, where they are alike.",
            (
                "Ends, End cut, Cut end, End detail, End type, End preparation, End prep, Cope, "
                "Notch, Notches, Mitre, Miter, Mitre angle, Miter angle, Ends A B, Ends A and B, "
                "Ends 1 2, Ends 1 and 2, Enden, Rohrenden, Extrémités, Bouts, Extremos"
            ),
            never="cap date tool template deburr",
        ),
        Column(
            "twist",
            "Twist",
            Kind.TEXT,
            "Where both ends are mitred: same side (long points on one side, as in a frame; so it "
            "is where this is blank), opposite sides (the cuts are parallel), or the degrees by "
            "which end 2 is turned about the tube, clockwise seen from end 1.",
            "Twist angle, End twist, Mitre twist, Long points, Twist of ends, Phase",
            choices=TWIST_WORDS,
        ),
        Column(
            "bent",
            "Bent",
            Kind.YES_NO,
            "How many bends; yes for a part in Bends. A part that is not there needs a number, and "
            "the length of its blank.",
            "Bend, Bends, Number of bends, No of bends, Bending, Formed, Bögen, Anzahl Bögen, "
            "Biegungen, Cintrages, Coudes, Dobleces, Curvas",
            never="angle radius min minute date tool",
        ),
        Column(
            "clr",
            "CLR",
            Kind.LENGTH,
            "Centreline radius of a bent part that is not in Bends, or how many ODs: `3D`. Left "
            "blank it is that of the only die for its OD.",
            "Centerline radius, Centre line radius, CL radius, Bend radius, Bending radius, Radius "
            "of bend, Die radius, Radius, Rad, Biegeradius, Rayon de cintrage, Radio de curvado",
            never="inside inner internal outside outer",
        ),
        Column(
            "due",
            "Due",
            Kind.DATE,
            "Date, with a time of day if it matters; a date alone is the end of that day.",
            (
                "Due date, Date due, Ship date, Delivery, Delivery date, Required, Required by, "
                "Required date, Need by, Need date, Needed by, Needed, Need, Want by, Want date, "
                "Wanted, Wanted by, Wanted date, Date wanted, Requested date, Request date, "
                "Deadline, Promise date, Promised, Promise, Ship by, Ship on, Ship, Must ship, "
                "Must ship by, Req date, Date required, Date needed, Due by, Due on, Delivery due, "
                "When, By when, Req by, Reqd by, Req d by, Req d date, Rqd, Rqd by, Del date, "
                "Cust req date, Customer req date, Cust want date, Customer want date, "
                "Customer due date, "
                "Finish by, Complete by, Out by, Ready by, Ready date, Target, Target date, Dock "
                "date, In hands, In hands date, Pick up, Pick up date, Collection, Collection "
                "date, Collect by, Install date, Liefertermin, Lieferdatum, Lieferung, Termin, "
                "Wunschtermin, Fällig, Fällig am, Bis, Date de livraison, Date souhaitée, Date "
                "limite, Livraison, Délai, Échéance, Fecha de entrega, Fecha límite, Fecha "
                "requerida, Entrega, Plazo, Reqd, Req d"
            ),
            required=True,
            never="material orig original old prev previous",
            example="2026-12-04",
        ),
        Column(
            "priority",
            "Priority",
            Kind.TEXT,
            "low, normal, high or rush; or how many times a late minute counts (1 is normal).",
            "Prio, Pri, Urgency, Urgent, Rush, Hot, Express, Expedite, Importance, Priorität, "
            "Dringlichkeit, Eilt, Priorité, Urgence, Prioridad, Urgencia, Urgente",
            never="date",
            choices=PRIORITY_WORDS,
            example="normal",
        ),
        Column(
            "route",
            "Route",
            Kind.TEXT,
            "usual (finish, saw, notch, bend), saw first, bend before notch, or the steps in "
            "order.",
            "Routing, Sequence, Process, Operations, Steps, Route if not usual",
            choices=ROUTE_WORDS,
            example="usual",
        ),
        Column(
            "touch_up",
            "Touch-up",
            Kind.SECONDS,
            "Handwork on each piece after bending, minutes a piece (or a header in seconds).",
            (
                "Touch up after bending, Touch up time, Touchup, Hand finish, Hand finishing, "
                "Touch up minutes, Rework minutes"
            ),
            example="0",
        ),
        Column(
            "status",
            "Status",
            Kind.TEXT,
            "open; done or closed, and the row is left out; hold or cancelled, and it is not "
            "planned, which is told.",
            "State, Order status, Line status, Job status, Item status",
        ),
        Column(
            "notes",
            "Notes",
            Kind.TEXT,
            "Anything the floor should read.",
            "Note, Remark, Remarks, Rmk, Rmks, Comment, Comments, Instructions, Bemerkung, "
            "Hinweis, Bem, Remarques, Observations, Obs, Notas, Observaciones",
            example="this row is an example and is not planned until it is changed",
        ),
    ),
    (
        "Order, Order lines, Order list, Order book, Week, Jobs, Job list, This week, Open "
        "orders, Work orders, Schedule, Orders this week, Backlog, Aufträge, Auftragsliste, "
        "Bestellungen, Commandes, Pedidos"
    ),
)

"""The fields of a material sheet and of a lot: what to copy from a data sheet, and where it is printed."""

from __future__ import annotations

from station.casting.chemistry import Chemistry
from station.core.material import Basis
from station.sheet_form.form import Entry, Group
from station.texts import N_

MATERIAL: tuple[Group, ...] = (
    Group(
        "",
        N_("The material"),
        (
            Entry(
                "key",
                N_("Short name"),
                N_("Small letters and hyphens, such as soft-foam-96. Files and links use it."),
                needed=True,
            ),
            Entry(
                "title", N_("Name"), N_("As you will look for it; the sheet's headline with its ratio."), needed=True
            ),
            Entry(
                "chemistry",
                N_("Chemistry"),
                N_("In the first lines of the data sheet: what it is, and what cures it."),
                tuple(c.value for c in Chemistry),
                needed=True,
            ),
            Entry(
                "basis",
                N_("The mix ratio counts"),
                N_("Printed beside the ratio, among the properties as mixed. If it says neither, ask."),
                tuple(b.value for b in Basis),
                needed=True,
            ),
            Entry(
                "tolerance",
                N_("Allowed error"),
                N_(
                    "± of each component, such as 2 %, seldom printed; urethanes 1 to 2 %, silicones 2 to 5 % "
                    "(common practice, no source)."
                ),
                needed=True,
            ),
            Entry(
                "density",
                N_("Density of the mix"),
                N_("Of the liquid, before any rise; “specific gravity” 1.08 is 1.08 g/cm3."),
            ),
            Entry("hardness", N_("Hardness"), N_("Among the properties when cured, such as 25 Shore A.")),
            Entry(
                "shrinkage",
                N_("Shrinkage"),
                N_("Linear, when cured, such as 0.1 %; printed as 0.001 in/in it is 0.1 %."),
            ),
            Entry(
                "pour_into",
                N_("Cup that receives"),
                N_("When each component has its own cup: the one the others go into."),
                needed=True,
            ),
            Entry(
                "weigh_order",
                N_("Weigh in this order"),
                N_("One component a line; empty: as they stand below."),
                lines=True,
            ),
            Entry(
                "cling",
                N_("Clings to a poured-out cup"),
                N_("Until the station has learned it by weighing, such as 1.5 %; no sheet prints it."),
            ),
            Entry(
                "ready",
                N_("To be at hand before mixing"),
                N_("One a line; the directions for use name them."),
                lines=True,
            ),
            Entry("cautions", N_("Cautions"), N_("One a line, from the safety data sheet."), lines=True),
        ),
    ),
    Group(
        "component",
        N_("Components"),
        (
            Entry("name", N_("Name"), N_("A, B, as on the can.")),
            Entry("parts", N_("Parts"), N_("Its number in the mix ratio, such as 100."), number=True),
            Entry(
                "density",
                N_("Density"),
                N_("With its unit; a specific gravity of 1.06 is 1.06 g/cm3. Needed when the ratio counts by volume."),
            ),
            Entry(
                "other_parts",
                N_("Parts of the other basis"),
                N_("Where the sheet gives the ratio both by weight and by volume."),
                number=True,
            ),
            Entry(
                "isocyanate",
                N_("It is the isocyanate"),
                N_("The side that moisture ruins; on its safety data sheet."),
                yes=True,
            ),
            Entry("nco", N_("NCO content"), N_("Such as 16.8 %, on the certificate of the isocyanate side.")),
            Entry("oh", N_("OH number"), N_("mg KOH/g, on the certificate of the other side."), number=True),
            Entry("keeps_opened", N_("Keeps once opened"), N_("Such as 90 d, under storage or shelf life.")),
        ),
        times=4,
        each=N_("Component"),
        least=2,
        hint=N_("Two at least; leave the others empty."),
    ),
    Group(
        "additive",
        N_("Additives"),
        (
            Entry("name", N_("Name"), N_("Pigment, thinner, accelerator, filler.")),
            Entry("percent", N_("Amount"), N_("By weight, such as 3 %.")),
            Entry("of", N_("Counted from"), N_("The name of a component, or total for all components together.")),
            Entry("into", N_("Weighed into the cup of"), N_("The name of a component.")),
            Entry("premix", N_("Stir it in for"), N_("Such as 20 s, before the other component goes in.")),
            Entry("tolerance", N_("Allowed error"), N_("± of its own mass, such as 10 %.")),
        ),
        times=3,
        each=N_("Additive"),
        hint=N_("Each has a sheet of its own."),
        folded=True,
    ),
    Group(
        "times",
        N_("Times"),
        (
            Entry("reference", N_("Temperature they hold for"), N_("Mostly 23 °C, in small print."), needed=True),
            Entry("pot_life", N_("Pot life"), N_("“Working time” or “gel time”, such as 50 s or 15 min."), needed=True),
            Entry("pot_life_for", N_("It holds for"), N_("Mostly 100 g, in small print.")),
            Entry("mix", N_("Mix at least"), N_("In the directions for use, such as 2 min."), needed=True),
            Entry(
                "pour_reserve",
                N_("Keep for pouring"),
                N_("How long you need to pour and close: yours, not the sheet's."),
                needed=True,
            ),
            Entry(
                "demold",
                N_("Demold after"),
                N_("Beside the pot life, “cure time” or “handling time”, such as 4 h."),
                needed=True,
            ),
            Entry("full_cure", N_("Full cure after"), N_("Such as 24 h; in the small print it may be 7 d.")),
            Entry("coldest", N_("Coldest it may be used"), N_("In the directions for use, such as 15 °C.")),
            Entry("warmest", N_("Warmest it may be used"), N_("In the directions for use, such as 35 °C.")),
            Entry("activation", N_("Activation energy"), N_("Rarely given, such as 50 kJ/mol.")),
        ),
    ),
    Group(
        "times.at",
        N_("Times at other temperatures"),
        (
            Entry("temperature", N_("Temperature"), N_("Such as 30 °C.")),
            Entry("pot_life", N_("Pot life"), N_("Such as 10 min.")),
            Entry("demold", N_("Demold after"), N_("Such as 4 h.")),
        ),
        times=3,
        each=N_("Temperature"),
        hint=N_("Where the sheet has a table or a curve of them; the reference temperature stands above already."),
        folded=True,
    ),
    Group(
        "times.of",
        N_("Pot life of other masses"),
        (
            Entry("mass", N_("Mixed mass"), N_("Such as 500 g.")),
            Entry("pot_life", N_("Pot life"), N_("Such as 11 min.")),
        ),
        times=3,
        each=N_("Mass"),
        hint=N_("Where the sheet has a table of them."),
        folded=True,
    ),
    Group(
        "foam",
        N_("Foam"),
        (
            Entry(
                "free_rise",
                N_("Free-rise density"),
                N_("Such as 96 kg/m3, among the properties when cured; a “6 lb” foam has 6 lb/ft3."),
            ),
            Entry(
                "expansion", N_("Expansion"), N_("Times its liquid's volume, when no density is given."), number=True
            ),
            Entry(
                "packing_low", N_("Lowest packing factor"), N_("Molded ÷ free-rise density, such as 1.05."), number=True
            ),
            Entry(
                "packing_high", N_("Highest packing factor"), N_("Such as 1.4; under molding, if at all."), number=True
            ),
        ),
        hint=N_("Of a foam only."),
        folded=True,
    ),
    Group(
        "kit",
        N_("Kits"),
        (
            Entry("title", N_("Title"), N_("Such as small pair.")),
            Entry("price", N_("Price"), N_("Of the whole kit, such as 32.50.")),
            Entry(
                "part",
                N_("What it holds"),
                N_("One component a line: A 1 kg. On the price list or the label."),
                lines=True,
            ),
        ),
        times=3,
        each=N_("Kit"),
        hint=N_("The sizes in which you buy it."),
        folded=True,
    ),
)
LOT: tuple[Group, ...] = (
    Group(
        "",
        N_("A container"),
        (
            Entry("material", N_("Material"), N_("What it is a part of."), needed=True),
            Entry("component", N_("Component"), N_("A, B, pigment …, as its material's sheet calls it."), needed=True),
            Entry("number", N_("Lot number"), N_("Printed or stamped on the container."), needed=True),
            Entry(
                "left",
                N_("What is in it"),
                N_("As on the label, such as 1.2 kg. Or weigh it and fill in the next two."),
            ),
            Entry(
                "gross", N_("Container with what is in it"), N_("As the scale shows it with its lid, such as 1.44 kg.")
            ),
            Entry("empty", N_("Empty container"), N_("With its lid, such as 240 g; one of the same kind will do.")),
            Entry("opened", N_("Opened on"), N_("Such as 2026-03-14; empty while it is sealed.")),
            Entry("best_before", N_("Best before"), N_("On the label, such as 2027-01-31.")),
        ),
    ),
)

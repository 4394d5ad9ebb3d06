"""The fields of a material sheet and of a lot: what to copy from a data sheet, and where it is printed."""

from __future__ import annotations

from station.casting.chemistry import Chemistry
from station.core.material import Basis
from station.sheet_form.form import Entry, Group

MATERIAL: tuple[Group, ...] = (
    Group(
        "",
        "The material",
        (
            Entry(
                "key",
                "Short name",
                "Small letters and hyphens, such as soft-foam-96. Files and links use it.",
                needed=True,
            ),
            Entry("title", "Name", "As you will look for it; the sheet's headline with its ratio.", needed=True),
            Entry(
                "chemistry",
                "Chemistry",
                "In the first lines of the data sheet: what it is, and what cures it.",
                tuple(c.value for c in Chemistry),
                needed=True,
            ),
            Entry(
                "basis",
                "The mix ratio counts",
                "Printed beside the ratio, among the properties as mixed. If it says neither, ask.",
                tuple(b.value for b in Basis),
                needed=True,
            ),
            Entry(
                "tolerance",
                "Allowed error",
                "± of each component, such as 2 %, seldom printed; urethanes 1 to 2 %, silicones 2 to 5 % "
                "(common practice, no source).",
                needed=True,
            ),
            Entry(
                "density",
                "Density of the mix",
                "Of the liquid, before any rise; “specific gravity” 1.08 is 1.08 g/cm3.",
            ),
            Entry("hardness", "Hardness", "Among the properties when cured, such as 25 Shore A."),
            Entry("shrinkage", "Shrinkage", "Linear, when cured, such as 0.1 %; printed as 0.001 in/in it is 0.1 %."),
            Entry(
                "pour_into",
                "Cup that receives",
                "When each component has its own cup: the one the others go into.",
                needed=True,
            ),
            Entry(
                "weigh_order", "Weigh in this order", "One component a line; empty: as they stand below.", lines=True
            ),
            Entry(
                "cling",
                "Clings to a poured-out cup",
                "Until the station has learned it by weighing, such as 1.5 %; no sheet prints it.",
            ),
            Entry("ready", "To be at hand before mixing", "One a line; the directions for use name them.", lines=True),
            Entry("cautions", "Cautions", "One a line, from the safety data sheet.", lines=True),
        ),
    ),
    Group(
        "component",
        "Components",
        (
            Entry("name", "Name", "A, B, as on the can."),
            Entry("parts", "Parts", "Its number in the mix ratio, such as 100.", number=True),
            Entry(
                "density",
                "Density",
                "With its unit; a specific gravity of 1.06 is 1.06 g/cm3. Needed when the ratio counts by volume.",
            ),
            Entry(
                "other_parts",
                "Parts of the other basis",
                "Where the sheet gives the ratio both by weight and by volume.",
                number=True,
            ),
            Entry(
                "isocyanate",
                "It is the isocyanate",
                "The side that moisture ruins; on its safety data sheet.",
                yes=True,
            ),
            Entry("nco", "NCO content", "Such as 16.8 %, on the certificate of the isocyanate side."),
            Entry("oh", "OH number", "mg KOH/g, on the certificate of the other side.", number=True),
            Entry("keeps_opened", "Keeps once opened", "Such as 90 d, under storage or shelf life."),
        ),
        times=4,
        each="Component",
        least=2,
        hint="Two at least; leave the others empty.",
    ),
    Group(
        "additive",
        "Additives",
        (
            Entry("name", "Name", "Pigment, thinner, accelerator, filler."),
            Entry("percent", "Amount", "By weight, such as 3 %."),
            Entry("of", "Counted from", "The name of a component, or total for all components together."),
            Entry("into", "Weighed into the cup of", "The name of a component."),
            Entry("premix", "Stir it in for", "Such as 20 s, before the other component goes in."),
            Entry("tolerance", "Allowed error", "± of its own mass, such as 10 %."),
        ),
        times=3,
        each="Additive",
        hint="Each has a sheet of its own.",
        folded=True,
    ),
    Group(
        "times",
        "Times",
        (
            Entry("reference", "Temperature they hold for", "Mostly 23 °C, in small print.", needed=True),
            Entry("pot_life", "Pot life", "“Working time” or “gel time”, such as 50 s or 15 min.", needed=True),
            Entry("pot_life_for", "It holds for", "Mostly 100 g, in small print."),
            Entry("mix", "Mix at least", "In the directions for use, such as 2 min.", needed=True),
            Entry(
                "pour_reserve",
                "Keep for pouring",
                "How long you need to pour and close: yours, not the sheet's.",
                needed=True,
            ),
            Entry(
                "demold",
                "Demold after",
                "Beside the pot life, “cure time” or “handling time”, such as 4 h.",
                needed=True,
            ),
            Entry("full_cure", "Full cure after", "Such as 24 h; in the small print it may be 7 d."),
            Entry("coldest", "Coldest it may be used", "In the directions for use, such as 15 °C."),
            Entry("warmest", "Warmest it may be used", "In the directions for use, such as 35 °C."),
            Entry("activation", "Activation energy", "Rarely given, such as 50 kJ/mol."),
        ),
    ),
    Group(
        "times.at",
        "Times at other temperatures",
        (
            Entry("temperature", "Temperature", "Such as 30 °C."),
            Entry("pot_life", "Pot life", "Such as 10 min."),
            Entry("demold", "Demold after", "Such as 4 h."),
        ),
        times=3,
        each="Temperature",
        hint="Where the sheet has a table or a curve of them; the reference temperature stands above already.",
        folded=True,
    ),
    Group(
        "times.of",
        "Pot life of other masses",
        (Entry("mass", "Mixed mass", "Such as 500 g."), Entry("pot_life", "Pot life", "Such as 11 min.")),
        times=3,
        each="Mass",
        hint="Where the sheet has a table of them.",
        folded=True,
    ),
    Group(
        "foam",
        "Foam",
        (
            Entry(
                "free_rise",
                "Free-rise density",
                "Such as 96 kg/m3, among the properties when cured; a “6 lb” foam has 6 lb/ft3.",
            ),
            Entry("expansion", "Expansion", "Times its liquid's volume, when no density is given.", number=True),
            Entry("packing_low", "Lowest packing factor", "Molded ÷ free-rise density, such as 1.05.", number=True),
            Entry("packing_high", "Highest packing factor", "Such as 1.4; under molding, if at all.", number=True),
        ),
        hint="Of a foam only.",
        folded=True,
    ),
    Group(
        "kit",
        "Kits",
        (
            Entry("title", "Title", "Such as small pair."),
            Entry("price", "Price", "Of the whole kit, such as 32.50."),
            Entry("part", "What it holds", "One component a line: A 1 kg. On the price list or the label.", lines=True),
        ),
        times=3,
        each="Kit",
        hint="The sizes in which you buy it.",
        folded=True,
    ),
)
LOT: tuple[Group, ...] = (
    Group(
        "",
        "A container",
        (
            Entry("material", "Material", "What it is a part of.", needed=True),
            Entry("component", "Component", "A, B, pigment …, as its material's sheet calls it.", needed=True),
            Entry("number", "Lot number", "Printed or stamped on the container.", needed=True),
            Entry("left", "What is in it", "As on the label, such as 1.2 kg. Or weigh it and fill in the next two."),
            Entry("gross", "Container with what is in it", "As the scale shows it with its lid, such as 1.44 kg."),
            Entry("empty", "Empty container", "With its lid, such as 240 g; one of the same kind will do."),
            Entry("opened", "Opened on", "Such as 2026-03-14; empty while it is sealed."),
            Entry("best_before", "Best before", "On the label, such as 2027-01-31."),
        ),
    ),
)

"""Any material that the form has room for, and what a person types for it."""

from hypothesis import strategies as st

from station.casting.chemistry import Chemistry
from station.core.mass import Mass
from station.core.material import (
    TOTAL,
    Additive,
    Basis,
    Component,
    FoamFacts,
    Kit,
    KitPart,
    Material,
    PotLifeOf,
    Times,
    TimesAt,
)


def maybe(values):
    return st.none() | values


def number(least, most, places=2):
    """A number that a person types, with so many places."""
    scale = 10**places
    return st.integers(round(least * scale), round(most * scale)).map(lambda n: n / scale)


names = st.lists(
    st.text("ABCDEXYZabc 12", min_size=1, max_size=6)
    .map(str.strip)
    .filter(lambda t: t and t != TOTAL and "  " not in t),
    min_size=3,
    max_size=6,
    unique=True,
)
words = st.text("abc ÄÖ°%,:;'\"\\#[]{}=.", min_size=1, max_size=40).map(lambda t: " ".join(t.split())).filter(bool)


@st.composite
def materials(draw):
    """Any material that the form has room for, in the manner in which sheets are checked."""
    called = draw(names)
    count = draw(st.integers(2, min(4, len(called) - 1)))
    parts, extra = called[:count], called[count : count + 3]
    basis = draw(st.sampled_from(Basis))
    dense = number(0.3, 5) if basis is Basis.VOLUME else maybe(number(0.3, 5))
    mix, reserve, pot = draw(number(0, 60, 0)), draw(number(0, 60, 0)), draw(number(121, 3000, 0))
    demold = pot + draw(number(1, 9000, 0))
    low, high = sorted((draw(number(0.5, 10)), draw(number(0.5, 10))))
    foam = FoamFacts(draw(number(0.01, 1, 3)), draw(maybe(number(1, 100))), low, draw(st.sampled_from((None, high))))
    return Material(
        key="made",
        title=draw(words),
        components=tuple(
            Component(
                name,
                draw(number(0.01, 999)),
                draw(dense),
                draw(maybe(number(0.01, 999))),
                draw(st.booleans()),
                draw(maybe(number(1, 60, 1))),
                draw(maybe(number(1, 2000, 0))),
                draw(maybe(number(1, 900, 0))),
            )
            for name in parts
        ),
        basis=basis,
        times=Times(
            pot,
            mix,
            reserve,
            demold,
            draw(st.sampled_from((None, demold + 60))),
            draw(number(18, 30, 1)),
            draw(maybe(number(0.1, 5000, 1))),
            tuple(PotLifeOf(g, draw(number(5, 5000, 0))) for g in sorted(draw(st.sets(number(1, 99, 1), max_size=3)))),
            draw(maybe(number(-10, 18, 1))),
            draw(maybe(number(30, 120, 1))),
            draw(maybe(number(5, 200, 1))),
            tuple(
                TimesAt(c, draw(number(5, 5000, 0)), draw(maybe(number(1, 9000, 0))))
                for c in sorted(draw(st.sets(number(-10, 120, 1), max_size=3)))
            ),
        ),
        tolerance_percent=draw(number(0.1, 20)),
        weigh_order=tuple(draw(st.permutations(parts))),
        pour_into=draw(st.sampled_from(parts)),
        additives=tuple(
            Additive(
                name,
                draw(number(0.01, 100)),
                draw(st.sampled_from((*parts, TOTAL))),
                draw(st.sampled_from(parts)),
                draw(number(0, 3600, 0)),
                draw(number(0.1, 50, 1)),
            )
            for name in extra
        ),
        cling_percent=draw(number(0, 20)),
        ready_items=tuple(draw(st.lists(words, max_size=3))),
        cautions=tuple(draw(st.lists(words, max_size=3))),
        chemistry=draw(st.sampled_from(Chemistry)),
        density=draw(maybe(number(0.3, 5))),
        foam=draw(st.sampled_from((None, foam))),
        hardness=draw(st.just("") | words),
        shrinkage_percent=draw(maybe(number(0, 10))),
        kits=tuple(
            Kit(
                draw(words),
                tuple(KitPart(name, Mass(draw(st.integers(1, 10**7)))) for name in parts),
                draw(st.integers(0, 10**8)),
            )
            for _ in range(draw(st.integers(0, 3)))
        ),
    )


def typing(sheet):
    """What a person types for it: every quantity with its unit, nothing where the sheet says nothing."""
    t, foam = sheet.times, sheet.foam or FoamFacts()
    typed = {
        "key": sheet.key,
        "title": sheet.title,
        "chemistry": sheet.chemistry.value,
        "basis": sheet.basis.value,
        "tolerance": f"{sheet.tolerance_percent} %",
        "density": sheet.density and f"{sheet.density} g/cm3",
        "hardness": sheet.hardness,
        "shrinkage": None if sheet.shrinkage_percent is None else f"{sheet.shrinkage_percent} %",
        "pour_into": sheet.pour_into,
        "weigh_order": "\n".join(sheet.weigh_order),
        "cling": f"{sheet.cling_percent} %",
        "ready": "\n".join(sheet.ready_items),
        "cautions": "\r\n".join(sheet.cautions),
        "times reference": f"{t.reference_c} °C",
        "times pot_life": f"{t.pot_life_s} s",
        "times pot_life_for": t.pot_life_g and f"{t.pot_life_g} g",
        "times mix": f"{t.mix_s} s",
        "times pour_reserve": f"{t.pour_reserve_s} s",
        "times demold": f"{t.demold_s} s",
        "times full_cure": t.full_cure_s and f"{t.full_cure_s} s",
        "times coldest": None if t.coldest_c is None else f"{t.coldest_c} °C",
        "times warmest": t.warmest_c and f"{t.warmest_c} °C",
        "times activation": t.activation_kj and f"{t.activation_kj} kJ/mol",
        "foam free_rise": foam.free_rise_density and f"{foam.free_rise_density} g/cm3",
        "foam expansion": foam.expansion and str(foam.expansion).replace(".", ","),
        "foam packing_low": foam.packing_low and str(foam.packing_low),
        "foam packing_high": foam.packing_high and str(foam.packing_high),
    }
    rows = [
        (
            "component",
            sheet.components,
            lambda c: {
                "name": c.name,
                "parts": str(c.parts),
                "density": c.density and f"{c.density} g/cm3",
                "other_parts": c.other_parts and str(c.other_parts),
                "isocyanate": "yes" if c.isocyanate else "",
                "nco": c.nco_percent and f"{c.nco_percent} %",
                "oh": c.oh_number and str(c.oh_number),
                "keeps_opened": c.opened_life_d and f"{c.opened_life_d} d",
            },
        ),
        (
            "additive",
            sheet.additives,
            lambda a: {
                "name": a.name,
                "percent": f"{a.percent} %",
                "of": a.of,
                "into": a.into,
                "premix": f"{a.premix_s} s",
                "tolerance": f"{a.tolerance_percent} %",
            },
        ),
        (
            "times.at",
            t.at,
            lambda r: {
                "temperature": f"{r.celsius} °C",
                "pot_life": r.pot_life_s and f"{r.pot_life_s} s",
                "demold": r.demold_s and f"{r.demold_s} s",
            },
        ),
        ("times.of", t.pot_life_by_mass, lambda r: {"mass": f"{r.mass_g} g", "pot_life": f"{r.pot_life_s} s"}),
        (
            "kit",
            sheet.kits,
            lambda k: {
                "title": k.title,
                "price": f"{k.price // 100}.{k.price % 100:02d}",
                "part": "\n".join(f"{p.component} {p.mass.mg} mg" for p in k.parts),
            },
        ),
    ]
    for table, many, one in rows:
        for n, row in enumerate(many, 1):
            typed |= {f"{table} {n} {key}": text for key, text in one(row).items()}
    return {name: text for name, text in typed.items() if text}

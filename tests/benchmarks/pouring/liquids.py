"""Liquids and the film that they leave on a lip, from the lubrication theory of a falling film.

A film of thickness h that runs down a wall at angle a discharges rho g sin(a) h^3 / (3 mu) per unit of width (Nusselt
1916; Bird, Stewart, Lightfoot, Transport Phenomena, 2nd ed., section 2.2). So a lip that is fed no more empties as
t^(-3/2). Viscosities are of the order that data sheets of casting materials state; people and jugs are invented.
"""

from __future__ import annotations

from dataclasses import dataclass

G_M_S2 = 9.81


@dataclass(frozen=True, slots=True)
class Liquid:
    """SI units; `steady_g_s` is the thinnest stream that a hand holds, `most_g_s` the thickest, from a 60 g job."""

    viscosity_pa_s: float
    density_kg_m3: float
    steady_g_s: float
    most_g_s: float
    drop_g: float
    answer_s: float

    def film_rate(self, width_m: float, length_m: float, slope: float) -> float:
        """k in q = k V³, q in g/s, V in g on the lip: h = V / (rho width length)."""
        per_g = 1e-3 / (self.density_kg_m3 * width_m * length_m)
        volume_flow = G_M_S2 * slope * self.density_kg_m3 * width_m * per_g**3 / (3 * self.viscosity_pa_s)
        return volume_flow * self.density_kg_m3 * 1e3


LIQUIDS = {
    "isocyanate": Liquid(0.2, 1230.0, 0.9, 90.0, 0.05, 0.15),
    "polyol": Liquid(0.9, 1040.0, 0.7, 70.0, 0.06, 0.22),
    "silicone": Liquid(6.0, 1120.0, 0.5, 40.0, 0.09, 0.4),
    "paste": Liquid(25.0, 1250.0, 0.3, 16.0, 0.12, 0.65),
}

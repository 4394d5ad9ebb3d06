"""A scale check as made at Wrenfield Works, an invented workshop: a 0.1 g scale to 3 kg that is in order."""

from station.metrology.check import CheckReadings
from station.metrology.readings import Corners, DriftSeries, Placements, Stream, WeightReading, ZeroReturns
from station.metrology.weights import CheckWeight, OfClass, WeightClass

FLOWING = ("0.0", "12.3", "57.9", "101.4", "150.2", "180.7", "194.6", "198.1", "199.5", "200.0")


def weight(nominal_g=200, known=WeightClass.M1):
    return CheckWeight(nominal_g, OfClass(known))


def readings(**changes):
    """A whole check of a scale in order, with whatever a test changes."""
    whole = {
        "readability_g": 0.1,
        "maximum_g": 3000.0,
        "zero_returns": ZeroReturns((0.0,) * 10),
        "placements": Placements((200.0,) * 10),
        "weights": (WeightReading(weight(2000), (2000.1,)), WeightReading(weight(200), (200.0, 200.0))),
        "corners": Corners(1000, 1000.0, 1000.1, 1000.0, 1000.1, 1000.0),
        "drift": DriftSeries(((0, 200.0), (300, 200.0), (600, 200.0))),
        "settling_s": (1.8, 2.4, 2.1),
        "stream": Stream(tuple(0.1 * n for n in range(10)), FLOWING),
    }
    return CheckReadings(**(whole | changes))

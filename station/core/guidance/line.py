"""Line: two numbers of a straight line with how far they are in doubt, learned point by point.

Bayesian linear regression with a normal prior, one observation at a time (recursive least squares); see any textbook,
e.g. Gelman et al., Bayesian Data Analysis (3rd ed., 2013), chapter 14. tests/core/guidance holds it against numpy.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Line:
    """y = `start` + `slope` x, with the variances of both and their covariance."""

    start: float
    slope: float
    var_start: float
    covar: float
    var_slope: float

    def at(self, x: float) -> float:
        """The y expected at `x`."""
        return self.start + self.slope * x

    def doubt_var(self, x: float) -> float:
        """Variance of that, as far as the line itself is in doubt."""
        return max(0.0, self.var_start + 2 * x * self.covar + x * x * self.var_slope)

    def seen(self, x: float, off: float, noise_var: float) -> Line:
        """The line after a point that lay `off` above what was expected at `x`, known to `noise_var`."""
        spread = self.doubt_var(x) + noise_var
        to_start = self.var_start + x * self.covar
        to_slope = self.covar + x * self.var_slope
        return Line(
            self.start + to_start / spread * off,
            self.slope + to_slope / spread * off,
            self.var_start - to_start * to_start / spread,
            self.covar - to_start * to_slope / spread,
            self.var_slope - to_slope * to_slope / spread,
        )

    def doubted(self, factor: float) -> Line:
        """The same line with its variances times `factor`: what was learned grows old."""
        return Line(self.start, self.slope, self.var_start * factor, self.covar * factor, self.var_slope * factor)

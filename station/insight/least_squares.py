"""Least squares: a straight line or plane through few casts, with what is needed for honest intervals."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import stdtr, stdtrit

Vector = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Fit:
    """Coefficients `beta` (p), their covariance over s² (p × p), residual standard deviation `s` on `df` degrees."""

    beta: Vector
    unscaled: Vector
    s: float
    df: int
    squares: float

    def u(self, at: int) -> float:
        """Standard error of a coefficient."""
        return self.s * float(np.sqrt(self.unscaled[at, at]))

    def p(self, at: int) -> float:
        """Two-sided p of a coefficient being zero, by Student's t."""
        if not self.u(at) > 0:
            return 0.0
        return 2 * float(stdtr(self.df, -abs(float(self.beta[at])) / self.u(at)))

    def t_quantile(self, level: float) -> float:
        """Two-sided quantile of Student's t at this fit's degrees of freedom."""
        return float(stdtrit(self.df, 0.5 + level / 2))

    def mean(self, row: Vector, level: float = 0.95) -> tuple[float, float, float]:
        """The value at `row` (p) and the interval of its mean."""
        value = float(row @ self.beta)
        half = self.t_quantile(level) * self.s * float(np.sqrt(row @ self.unscaled @ row))
        return value, value - half, value + half

    def single(self, row: Vector, level: float = 0.95) -> tuple[float, float, float]:
        """The value at `row` (p) and the interval of one more observation."""
        value = float(row @ self.beta)
        half = self.t_quantile(level) * self.s * float(np.sqrt(1 + row @ self.unscaled @ row))
        return value, value - half, value + half


def least_squares(rows: Vector, y: Vector) -> Fit | None:
    """The fit of `y` (n) by the columns of `rows` (n × p): by QR of scaled columns, for badly conditioned data.

    None when no degree of freedom is left, or the columns cannot be told apart.
    """
    n, p = rows.shape
    if n <= p:
        return None
    scale = np.sqrt((rows**2).sum(axis=0))
    if not (scale > 0).all():
        return None
    q, r = np.linalg.qr(rows / scale)
    if not np.abs(np.diag(r)).min() > 1e-12:
        return None
    beta = np.linalg.solve(r, q.T @ y)
    # One step of refinement: the residual of the first answer, fitted again.
    beta = beta + np.linalg.solve(r, q.T @ (y - (rows / scale) @ beta))
    inverse = np.linalg.solve(r, np.eye(p))
    squares = float(((y - (rows / scale) @ beta) ** 2).sum())
    unscaled = inverse @ inverse.T / np.outer(scale, scale)
    return Fit(beta / scale, unscaled, float(np.sqrt(squares / (n - p))), n - p, squares)

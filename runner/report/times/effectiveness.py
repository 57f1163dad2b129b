"""Shares of time and output that plants compare: availability, performance, quality, and their product; set-up ratio.

Plain ratios, informed by the time elements of ISO 22400-2:2014. A share whose whole is zero is not known: None.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Effectiveness:
    """Shares, 1 is all."""

    availability: float
    """Running time over planned time."""
    performance: float
    """Output over what the running time would give at the ideal rate."""
    quality: float
    """Good output over all output."""

    @property
    def overall(self) -> float:
        """Their product: good output over what the planned time would give at the ideal rate."""
        return self.availability * self.performance * self.quality


def share(part: float, whole: float) -> float | None:
    """Part of a whole; None where there is no whole."""
    return part / whole if whole > 0 else None


def effectiveness(planned_s: float, down_s: float, ideal_rate: float, made: float, good: float) -> Effectiveness | None:
    """From planned time and standstill in s, the ideal rate in pieces (or metres) per second, all and good output.

    None where one of the wholes is zero.
    """
    running_s = planned_s - down_s
    availability = share(running_s, planned_s)
    performance = share(made, running_s * ideal_rate)
    quality = share(good, made)
    if availability is None or performance is None or quality is None:
        return None
    return Effectiveness(availability, performance, quality)


def setup_ratio(setup_s: float, production_s: float) -> float | None:
    """Set-up time over processing time, which is production and set-up (AUST / AUPT of ISO 22400-2, from memory)."""
    return share(setup_s, production_s + setup_s)

"""The standard normal distribution: the share below a value, and the value below a share, far into the tails."""

from scipy.special import ndtr, ndtri


def shares():
    """From next to nothing up to next to one, none with more digits than any reader of JSON takes in exactly."""
    small = [float(f"1e-{digits}") for digits in (*range(3, 20), 30, 50, 100, 200, 300)]
    middle = [round(percent / 100, 2) for percent in range(1, 100)]
    large = [round(1 - 10**-digits, digits) for digits in range(3, 13)]
    return sorted([*small, *middle, 0.025, 0.975, 0.0005, 0.9995, *large])


def vectors():
    below = [quarter / 4 for quarter in range(-37 * 4, 8 * 4 + 1)]
    return {
        "shares": [[z, float(ndtr(z))] for z in below],
        "quantiles": [[share, float(ndtri(share))] for share in shares()],
    }

"""How sure a ratio is: the 80 % band about supply over need, from what is not known of feed, feeder, doe and milk."""

from __future__ import annotations

from math import isqrt
from typing import Any

from .balance import parts_of, permille
from .context import Context

Z60_PM = 842
Z80_PM = 1282  # the tenth and ninetieth percentiles of a normal distribution lie 1.282 deviations out


ONE_FEED = {"cp": "cp_band_pm", "ca": "mineral_band_pm", "p": "mineral_band_pm"}


def band_of(ctx: Context, key: str, total: dict[str, Any]) -> list[int]:
    """[low, high] permille of supply over need for one nutrient: her feeds, her feeder, and what is not known of her.

    Several feeds err apart, so a mixed ration is surer than a single hay. What is not known of her weight, kids and
    milk moves her need of protein and minerals as it moves her need of energy.
    """
    if key == "me":
        return energy_band(ctx, total)
    got, need = total["got"][key], total["need"][key]
    pm = permille(got, need)
    if got <= 0 or need <= 0 or total["dm"] <= 0 or total["need"]["me"] <= 0:
        return [pm, pm]
    doubt = _amounts_doubt(ctx, got, got * (total["dm"] - total["own"]) // total["dm"])
    for feed_id, part in parts_of(ctx, total, key).items():
        half_pm = ctx.rules[ONE_FEED[key]] * feed_sd_pm(ctx, feed_id) // ctx.rules["feed_sd_pm"]
        of_feed = part * half_pm // Z80_PM
        doubt += of_feed * of_feed
    of_supply, of_need = isqrt(doubt) * 1000 // got, total["need_sd"] * 1000 // total["need"]["me"]
    return spread(pm, isqrt(of_supply * of_supply + of_need * of_need) * Z80_PM // 1000)


def energy_band(ctx: Context, total: dict[str, Any]) -> list[int]:
    """[low, high] permille of energy supply over need; errors of one feed, feeder or doe last all week together.

    The default maintenance is the highest of the published figures, so the band is centred a little above the ratio.
    """
    got, need = total["got"]["me"], total["need"]["me"]
    pm = permille(got, need)
    if got <= 0 or need <= 0:
        return [pm, pm]
    of_supply, of_need = isqrt(supply_doubt(ctx, total)) * 1000 // got, total["need_sd"] * 1000 // need
    sd_pm = isqrt(of_supply * of_supply + of_need * of_need)
    return spread(centred(ctx, pm), sd_pm * Z80_PM // 1000)


def centred(ctx: Context, pm: int) -> int:
    """The ratio in the middle of the published figures for need, where the default stands at their top."""
    return int(pm * (1000 + ctx.rules["need_high_pm"]) // 1000)


def supply_doubt(ctx: Context, total: dict[str, Any]) -> int:
    """Variance of the energy eaten over the days, kJ squared: feeder and sharing, amounts, each feed's energy."""
    got = total["got"]["me"]
    doubt = _amounts_doubt(ctx, got, got - total["own_me"])
    for feed_id, kj in parts_of(ctx, total, "me").items():
        of_feed = kj * feed_sd_pm(ctx, feed_id) // 1000
        doubt += of_feed * of_feed
    return doubt


def _amounts_doubt(ctx: Context, got: int, shared: int) -> int:
    of_sharing = shared * ctx.rules["waste_share_sd_pm"] // 1000
    of_scoops = got * ctx.rules["amount_sd_pm"] // 1000
    return int(of_sharing * of_sharing + of_scoops * of_scoops)


def feed_sd_pm(ctx: Context, feed_id: str) -> int:
    """One standard deviation of a feed's energy, permille: its own in the book, or the herd rule's."""
    feed = ctx.feed(feed_id)
    known = feed.get("me_sd_pm") if feed else None
    return known if isinstance(known, int) else ctx.rules["feed_sd_pm"]


def spread(pm: int, half_pm: int) -> list[int]:
    """A ratio less and plus a share of itself."""
    width = pm * half_pm // 1000
    return [max(0, pm - width), pm + width]


def sure(state: str, band: list[int]) -> bool:
    """Whether four chances in five lie on the side that is spoken of: the band drawn in from its 80 % to 60 %."""
    middle, half = (band[0] + band[1]) // 2, (band[1] - band[0]) * Z60_PM // Z80_PM // 2
    return middle + half < 1000 if state == "short" else middle - half > 1000 if state == "over" else True

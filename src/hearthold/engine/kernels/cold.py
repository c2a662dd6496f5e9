"""Cold stores in motion: shell and core, segment by segment of the food's heat capacity.

A store moves only when something happens to it: its compressor switches, a level or knot is reached, or two hours
are over. The room enters by its mean over that step, and by how late in it the warmth came. How the room will go is
not known beforehand, so a level is foretold for the warmest and the coolest that it may become: the store is looked
at then, too early rather than too late, and again until the level is less than a minute off.
"""

# mypy: disable-error-code="no-any-return"
from __future__ import annotations

from hearthold.engine.jit import kernel
from hearthold.engine.kernels.band import nearer
from hearthold.engine.kernels.decays import decay, first_crossing, stays
from hearthold.engine.kernels.house import advance_house, outdoor_sum, outdoor_sum2, room_margins
from hearthold.engine.kernels.layout import (
    A_COLD,
    A_KNOTS,
    A_MODES,
    A_RULE_COLD,
    B_COLD,
    C_COOL_W,
    C_COUNT,
    C_G,
    C_LIMIT,
    C_LOAD,
    C_NEXT,
    C_OFF,
    C_ON,
    C_ROOM_AIR,
    C_ROOM_OUT,
    C_UA,
    COLD_LEVEL_K,
    COLD_STEP_S,
    D_AT,
    D_CALL,
    D_COOL_W,
    D_CORE,
    D_COUNT,
    D_FIRST,
    D_FOOD_S,
    D_GAIN_J,
    D_HELD_J,
    D_LOST_AT,
    D_MAX,
    D_OVER_KS,
    D_OVER_S,
    D_ROOM1,
    D_ROOM2,
    D_RUN_S,
    D_SEG1,
    D_SEG2,
    D_SHELL,
    EXACT_S,
    FAR,
    HOP_FROM_S,
    K_KIND,
    KNOT_NEAR_K,
    KNOT_SHORT,
    KNOT_SLIP_K,
    LACKING,
    M_B1,
    M_B2,
    M_C1,
    M_C2,
    M_COUNT,
    M_DOWN1,
    M_DOWN2,
    M_EF,
    M_ES,
    M_KF,
    M_KS,
    M_SF,
    M_SS,
    M_UP1,
    M_UP2,
    M_W1,
    M_W2,
    N_SEGMENTS,
    NEEDY,
    NO_SOURCE,
    P_FOOD_S,
    Q_FIRST,
    Q_HOUR,
    ROUGH_S,
    RUNNING,
    S_AIR,
    S_AIR_SUM,
    S_AIR_SUM2,
    S_DIRTY,
    S_MODE,
    S_OUT_C,
    S_RULE_DIRTY,
    S_SOURCE,
    S_T,
    THERMO,
    WANT,
    Array,
    Ints,
)  # fmt: skip
from hearthold.engine.kernels.sets import has, put


@kernel(inline=True)
def modes_of(at: Ints, k: int, s1: int, s2: int) -> int:
    """Where the two-node constants of store k begin for a pair of segments."""
    n = at[N_SEGMENTS]
    return at[A_MODES] + ((k * n + s1) * n + s2) * M_COUNT


@kernel
def advance_cold(w: Array, at: Ints, s: Array, k: int, t: float) -> None:
    """Move cold store k to t with the room's mean since its last move, and how late its warmth came; keep accounts."""
    d, c = at[B_COLD] + k * D_COUNT, at[A_COLD] + k * C_COUNT
    dt = t - s[d + D_AT]
    if dt <= 0.0:
        return
    advance_house(w, at, s, t)
    room_sum, room_sum2 = room_sums(w, s, c, t, s[S_AIR_SUM], s[S_AIR_SUM2])
    room = (room_sum - s[d + D_ROOM1]) / dt
    late = 0.5 * dt * (room_sum + s[d + D_ROOM1]) - (room_sum2 - s[d + D_ROOM2])
    m = modes_of(at, k, int(s[d + D_SEG1]), int(s[d + D_SEG2]))
    shell, core = s[d + D_SHELL], s[d + D_CORE]
    across = w[c + C_G] * (core - shell)
    f1 = (w[c + C_UA] * (room - shell) + across - s[d + D_COOL_W]) / w[m + M_C1]
    f2 = -across / w[m + M_C2]
    if dt == COLD_STEP_S:
        e_fast, s_fast, e_slow, s_slow = w[m + M_EF], w[m + M_SF], w[m + M_ES], w[m + M_SS]
    else:
        e_fast, s_fast = decay(w[m + M_KF], dt)
        e_slow, s_slow = decay(w[m + M_KS], dt)
    a_fast, a_slow = w[m + M_W1] * f1 + w[m + M_B1] * f2, w[m + M_W2] * f1 - w[m + M_B1] * f2
    b_fast, b_slow = w[m + M_W2] * f2 + w[m + M_B2] * f1, w[m + M_W1] * f2 - w[m + M_B2] * f1
    shell_sum = shell * dt + a_fast * s_fast + a_slow * s_slow
    rise1, rise2 = a_fast * e_fast + a_slow * e_slow, b_fast * e_fast + b_slow * e_slow
    # warmth that came late in the step has had less time to act and to be lost again
    push = w[c + C_UA] / w[m + M_C1] * late / dt
    p_fast, p_slow = push * e_fast, push * e_slow
    shell_sum -= w[m + M_W1] * p_fast + w[m + M_W2] * p_slow
    rise1 += w[m + M_W1] * w[m + M_KF] * p_fast + w[m + M_W2] * w[m + M_KS] * p_slow
    rise2 += w[m + M_B2] * (w[m + M_KF] * p_fast - w[m + M_KS] * p_slow)
    s[d + D_GAIN_J] += w[c + C_UA] * (room * dt - shell_sum) - s[d + D_COOL_W] * dt
    s[d + D_HELD_J] += w[m + M_C1] * rise1 + w[m + M_C2] * rise2
    if s[d + D_COOL_W] > 0.0:
        s[d + D_RUN_S] += dt
    s[d + D_SHELL], s[d + D_CORE] = shell + rise1, core + rise2
    s[d + D_AT], s[d + D_ROOM1], s[d + D_ROOM2] = t, room_sum, room_sum2
    _note_cold(w, s, d, w[c + C_LIMIT], shell_sum, dt)
    _settle_segments(w, at, s, k, rise1, rise2)
    if w[K_KIND] == THERMO:
        note_need(w, at, s, k)


@kernel
def note_need(w: Array, at: Ints, s: Array, k: int) -> None:
    """Whether the rule by need would start for store k, or go on for it; the rule is asked where that has changed."""
    shell, rule = s[at[B_COLD] + k * D_COUNT + D_SHELL], at[A_RULE_COLD] + 2 * k
    needy, lacking = shell >= w[rule] - COLD_LEVEL_K, shell > w[rule + 1] + COLD_LEVEL_K
    if needy != has(at, s, NEEDY, k) or lacking != has(at, s, LACKING, k):
        put(at, s, NEEDY, k, needy)
        put(at, s, LACKING, k, lacking)
        s[S_RULE_DIRTY] = 1.0


@kernel(inline=True)
def room_sums(w: Array, s: Array, c: int, t: float, air_sum: float, air_sum2: float) -> tuple[float, float]:
    """Integral of the temperature of a store's room from the start to t, and the integral of that; the air's given."""
    air, outdoor = w[c + C_ROOM_AIR], w[c + C_ROOM_OUT]
    return air * air_sum + outdoor * outdoor_sum(s, t), air * air_sum2 + outdoor * outdoor_sum2(s, t)


@kernel(inline=True)
def _note_cold(w: Array, s: Array, d: int, limit: float, shell_sum: float, dt: float) -> None:
    """Time over the limit in a step that lies on one side of it; the food clock counts all such time."""
    s[d + D_MAX] = max(s[d + D_MAX], s[d + D_SHELL])
    if shell_sum <= limit * dt:
        return
    s[d + D_OVER_S] += dt
    s[d + D_OVER_KS] += shell_sum - limit * dt
    if s[d + D_FIRST] >= FAR:
        s[d + D_FIRST] = s[d + D_AT] - dt
    before = s[d + D_FOOD_S]
    s[d + D_FOOD_S] = before + dt
    food_s = w[P_FOOD_S]
    if before <= food_s < s[d + D_FOOD_S]:
        s[d + D_LOST_AT] = s[d + D_AT] - dt + (food_s - before)


@kernel(inline=True)
def _settle_segments(w: Array, at: Ints, s: Array, k: int, rise1: float, rise2: float) -> None:
    """Where a node has reached a knot, or all but reached it, carry the heat beyond it over into the next segment."""
    d, last = at[B_COLD] + k * D_COUNT, at[N_SEGMENTS] - 1
    knots = at[A_KNOTS] + k * (last + 2)
    s1, s2 = int(s[d + D_SEG1]), int(s[d + D_SEG2])
    m = modes_of(at, k, s1, s2)
    up, down = w[m + M_UP1], w[m + M_DOWN1]
    way = _way_out(w, knots, last, s1, s[d + D_SHELL], rise1, up, down)
    if way != 0:
        knot = w[knots + s1 + 1] if way > 0 else w[knots + s1]
        s[d + D_SHELL] = knot + (s[d + D_SHELL] - knot) * (up if way > 0 else down)
        s[d + D_SEG1] = float(s1 + way)
    up, down = w[m + M_UP2], w[m + M_DOWN2]
    way = _way_out(w, knots, last, s2, s[d + D_CORE], rise2, up, down)
    if way != 0:
        knot = w[knots + s2 + 1] if way > 0 else w[knots + s2]
        s[d + D_CORE] = knot + (s[d + D_CORE] - knot) * (up if way > 0 else down)
        s[d + D_SEG2] = float(s2 + way)


@kernel(inline=True)
def _way_out(
    w: Array, knots: int, last: int, segment: int, t_c: float, rise: float, up: float, down: float
) -> int:
    """The way a node leaves its segment: 1 up, -1 down, 0 not."""
    if segment < last:
        beyond = (t_c - w[knots + segment + 1]) * max(1.0, up)
        if beyond > (-KNOT_NEAR_K if rise > 0.0 else KNOT_NEAR_K):
            return 1
    if segment > 0:
        beyond = (w[knots + segment] - t_c) * max(1.0, down)
        if beyond > (-KNOT_NEAR_K if rise < 0.0 else KNOT_NEAR_K):
            return -1
    return 0


@kernel
def foretell_cold(w: Array, at: Ints, s: Array, k: int) -> None:
    """When store k must move next: a level or knot reached with the room as it is now, or the longest step."""
    d, c, last = at[B_COLD] + k * D_COUNT, at[A_COLD] + k * C_COUNT, at[N_SEGMENTS] - 1
    knots = at[A_KNOTS] + k * (last + 2)
    room = w[c + C_ROOM_AIR] * s[S_AIR] + w[c + C_ROOM_OUT] * s[S_OUT_C]
    across = w[c + C_G] * (s[d + D_CORE] - s[d + D_SHELL])
    heat = w[c + C_UA] * (room - s[d + D_SHELL]) + across - s[d + D_COOL_W]
    _settle_segments(w, at, s, k, heat, -across)
    shell, core = s[d + D_SHELL], s[d + D_CORE]
    across = w[c + C_G] * (core - shell)
    heat = w[c + C_UA] * (room - shell) + across - s[d + D_COOL_W]
    s1, s2 = int(s[d + D_SEG1]), int(s[d + D_SEG2])
    m = modes_of(at, k, s1, s2)
    f1, f2 = heat / w[m + M_C1], -across / w[m + M_C2]
    below, above = _levels(w, at, s, k)
    warmer, cooler = room_margins(w, s)  # outdoors is constant until the hour, with which the step ends
    ua = w[c + C_UA] / w[m + M_C1]
    warm, cool = ua * w[c + C_ROOM_AIR] * warmer, ua * w[c + C_ROOM_AIR] * cooler
    early = _first_out(w, m, shell, f1 + warm, f2, M_W1, M_B1, -FAR, above, ROUGH_S, COLD_STEP_S)
    early = _first_out(w, m, shell, f1 - cool, f2, M_W1, M_B1, below, FAR, ROUGH_S, early)
    low, high = w[knots + s1], w[knots + s1 + 1]
    if early < HOP_FROM_S:
        early = HOP_FROM_S
        low, high = max(below, low), min(above, high)
    out = _first_out(w, m, shell, f1, f2, M_W1, M_B1, low, high, EXACT_S, early)
    if out < early:
        slip = max(warm, cool) * out * max(1.0, w[m + M_UP1] if heat > 0.0 else w[m + M_DOWN1])
        early = KNOT_SHORT * out if slip > KNOT_SLIP_K else out
    if w[c + C_ROOM_OUT] != 0.0 and s[Q_HOUR] > s[d + D_AT]:
        early = min(
            early, s[Q_HOUR] - s[d + D_AT]
        )  # within the hour it is constant outside, and all is exact
    if w[c + C_G] > 0.0:
        early = _first_out(w, m, core, f2, f1, M_W2, M_B2, w[knots + s2], w[knots + s2 + 1], ROUGH_S, early)
    s[Q_FIRST + k] = s[d + D_AT] + max(early, 1e-3)


@kernel(inline=True)
def _levels(w: Array, at: Ints, s: Array, k: int) -> tuple[float, float]:
    """The levels that matter to store k now, next below and next above its shell."""
    d, c = at[B_COLD] + k * D_COUNT, at[A_COLD] + k * C_COUNT
    shell = s[d + D_SHELL]
    below, above = nearer(-FAR, FAR, w[c + C_LIMIT], shell)
    if s[S_SOURCE] != NO_SOURCE and w[c + C_LOAD] >= 0.0:
        below, above = nearer(below, above, w[c + C_OFF] if s[d + D_CALL] != 0.0 else w[c + C_ON], shell)
    if w[K_KIND] == THERMO:
        # running, it is to fall to where it has recovered; standing, to rise to where it is in need
        running = s[S_MODE] == RUNNING
        level = w[at[A_RULE_COLD] + 2 * k + (1 if running else 0)]
        if (level < shell) == running:
            below, above = nearer(below, above, level, shell)
    return below, above


@kernel
def _first_out(
    w: Array, m: int, t_c: float, own: float, other: float, own_column: int, other_column: int,
    below: float, above: float, within_s: float, most_s: float,
) -> float:  # fmt: skip
    """When a node leaves a band, at most `most_s`; its own and its neighbour's rates of change are given."""
    share = w[m + own_column]
    a_fast, a_slow = (
        share * own + w[m + other_column] * other,
        (1.0 - share) * own - w[m + other_column] * other,
    )
    if stays(t_c, a_fast, a_slow, below, above, most_s):
        return most_s
    end = t_c + a_fast * w[m + M_EF] + a_slow * w[m + M_ES]
    crossing = first_crossing(
        t_c, a_fast, a_slow, w[m + M_KF], w[m + M_KS], below, above, COLD_STEP_S, end, within_s
    )
    return min(most_s, crossing)


@kernel
def read_cold(w: Array, at: Ints, s: Array, k: int) -> None:
    """Set the call of the compressor from the temperature as it is now."""
    d, c = at[B_COLD] + k * D_COUNT, at[A_COLD] + k * C_COUNT
    call = s[d + D_CALL]
    if s[d + D_SHELL] >= w[c + C_ON] - COLD_LEVEL_K:
        s[d + D_CALL] = 1.0
    elif s[d + D_SHELL] <= w[c + C_OFF] + COLD_LEVEL_K:
        s[d + D_CALL] = 0.0
    if s[d + D_CALL] == call:
        return
    want, other = s[d + D_CALL] != 0.0, int(w[c + C_NEXT])
    while other != k:  # two compartments may share one compressor
        want = want or s[at[B_COLD] + other * D_COUNT + D_CALL] != 0.0
        other = int(w[at[A_COLD] + other * C_COUNT + C_NEXT])
    if w[c + C_LOAD] >= 0.0:
        put(at, s, WANT, int(w[c + C_LOAD]), want)
    if s[S_SOURCE] != NO_SOURCE:
        s[S_DIRTY] = 1.0


@kernel
def on_cold(w: Array, at: Ints, s: Array, k: int) -> None:
    """Store k has reached a level, a knot, or the longest step."""
    advance_cold(w, at, s, k, s[S_T])
    read_cold(w, at, s, k)
    if s[S_DIRTY] == 0.0:
        foretell_cold(w, at, s, k)
    else:
        s[Q_FIRST + k] = -FAR  # its compressor is about to switch: see `loop.advance`


@kernel
def switch_cold(w: Array, at: Ints, s: Array, first: int, running: bool) -> None:
    """The compressor of this store, and of those that share it, has started or stopped."""
    k = first
    while True:
        advance_cold(w, at, s, k, s[S_T])
        s[at[B_COLD] + k * D_COUNT + D_COOL_W] = w[at[A_COLD] + k * C_COUNT + C_COOL_W] if running else 0.0
        foretell_cold(w, at, s, k)
        k = int(w[at[A_COLD] + k * C_COUNT + C_NEXT])
        if k == first:
            return

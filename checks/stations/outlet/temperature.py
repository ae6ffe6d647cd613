"""Temperature at the outlet under load."""

from typing import Final

from checks.check import Check, CircuitState, Situation
from checks.electrical.joint import JOINT_W
from checks.stations.outlet import condition, termination
from checks.stations.outlet.hidden import joint, load_test, rules_out_heat
from checks.stations.outlet.where import is_receptacle
from checks.stations.warmth.inputs import CAUTIONS, warmth_inputs
from checks.stations.warmth.judge import warmth_judge
from checks.stations.warmth.place import Place
from checks.verdict import Verdict


def _is_backed(s: Situation) -> bool:
    found = joint(s, load_test(s))
    if found is not None and rules_out_heat(s, found):
        return True
    if found is not None and found.is_sure:
        return False  # the volts found a joint that grip and torque do not know of
    joints = [termination.TORQUE.judge]
    if is_receptacle(s):
        joints.append(condition.judge_retention)
    return all(judge(s).verdict is Verdict.WITHIN for judge in joints)


OUTLET: Final = Place(
    check="outlet.temperature",
    part="outlet",
    is_backed=_is_backed,
    settles="Grip of the contacts and torque as applied, or a load test that leaves no room for "
    f"{JOINT_W:g} W of heat",
    damage=condition.judge_damage,
    has_terminals=True,
    has_like_part=True,
)

CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="outlet.temperature",
        needs=("connector.seating", "adapter.seating", "adapter.listing"),
        title="Temperature at the outlet",
        quantity="Heat",
        how=(
            "From the start of the charge on, read the hottest spot of receptacle face and plug, "
            "or of the closed terminal cover, always at the same place; leave the plug in. Beside "
            "it read the same spot over the other pole or terminal."
        ),
        inputs=warmth_inputs(
            "hottest spot of face, plug or closed terminal cover", "other pole or terminal"
        ),
        judge=warmth_judge(OUTLET),
        state=CircuitState.UNDER_LOAD,
        cautions=CAUTIONS,
    ),
)

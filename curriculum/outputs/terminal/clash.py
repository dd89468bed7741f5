"""What stands against a plan: requirements that clash, what would help, goals at risk."""

from collections.abc import Sequence

from rich.console import Group, RenderableType

from curriculum.outputs.terminal.render import BAD, FAINT, bullets, heading, say
from curriculum.risk import Outlook
from curriculum.schedule.explain.clash import Clash
from curriculum.schedule.explain.remedies import Remedy


def clash_view(clash: Clash, remedies: Sequence[Remedy] = ()) -> RenderableType:
    """Return a clash with its requirements, and the remedies that were tried."""
    parts: list[RenderableType] = [
        say("Not everything can be kept.", BAD),
        say(f"{clash.says[:1].upper()}{clash.says[1:]}."),
        say(""),
        heading("What clashes", _certainty(clash)),
        bullets(clash.requirements),
        say(""),
    ]
    whole = [remedy.says for remedy in remedies if remedy.whole]
    partly = [remedy.says for remedy in remedies if not remedy.whole]
    if whole:
        parts += [heading("What would clear it", "each one tried"), bullets(whole)]
    if partly:
        parts += [say("")] if whole else []
        parts += [heading("What would help in part", "each one tried"), bullets(partly)]
    if not remedies:
        parts.append(say("No single change that was tried clears it.", FAINT))
    return Group(*parts)


def _certainty(clash: Clash) -> str:
    if clash.minimal and len(clash.requirements) == 1:
        return "by itself"
    if clash.minimal:
        return "drop any one of these and the clash is gone"
    return "not proven minimal" if clash.proven else "not proven"


def risks_view(outlook: Outlook) -> RenderableType:
    """Return the goals that one lost practice would cost."""
    parts: list[RenderableType] = [heading("At risk")]
    if outlook.risks:
        parts.append(bullets((risk.says for risk in outlook.risks), "!"))
    else:
        parts.append(say("  No goal is missed when a single practice is lost."))
    if outlook.says:
        parts.append(say(f"  {outlook.says[:1].upper()}{outlook.says[1:]}.", FAINT))
    return Group(*parts)

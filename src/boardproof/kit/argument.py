"""What a derive block asks for, the argument that answers it, and why there may be none."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from boardproof.caution import dangers, tier_of
from boardproof.derive.routes import ROUTES, Fit, Unfitting, derive, propose
from boardproof.derive.steps import Derivation
from boardproof.findings import Finding, Kind, Kinds
from boardproof.lesson.derivation import read_derive
from boardproof.lesson.model import Derive
from boardproof.lesson.page import read_page
from boardproof.lesson.text import Fence, chunks
from boardproof.prove.walk import Place, Walk
from boardproof.prove.worlds import Worlds
from boardproof.record import record
from boardproof.source import Source

__all__ = ["KINDS", "Sought", "argument", "offers", "route_named", "sought_in", "target_block", "unfit"]

KINDS: Final = Kinds(
    [
        Kind(
            "unfit-route",
            "error",
            "{said}.",
            "Try `{near}`.",
            "A derive block without steps asks the tool to write them. Not every route leads to every result: two "
            "cells side by side do not share one current, so nothing can be shown by it. `boardproof derive FILE "
            "--all` says of each route whether it fits, and why not.\n\n"
            "    E_both, r_both of both by same current\n\nput right, where both is A || B:\n\n"
            "    E_both, r_both of both by same terminal p.d.\n",
        ),
    ]
)


@record
class Sought:
    """What is to be derived, and where.

    Parameters
    ----------
    block : Derive
        Targets, group, route and manner; perhaps steps that were kept.
    place : Place
        What is on the board there.
    line : int
        Of the lesson; 0 if it was asked for on the command line.
    """

    block: Derive
    place: Place
    line: int = 0

    @property
    def targets(self) -> tuple[str, ...]:
        """Names of what is wanted."""
        return tuple(target.text.strip() for target in self.block.targets)

    @property
    def group(self) -> str | None:
        """The group that is spoken of."""
        return self.block.group.text.strip() if self.block.group else None

    def words(self, route: str = "") -> str:
        """The block's headline: ``E_p, r_p of both by open, then short``."""
        of = f" of {self.group}" if self.group else ""
        return ", ".join(self.targets) + of + (f" by {route.removeprefix('by ')}" if route else "")


def route_named(text: str) -> str | None:
    """The route that a text names, however it is spelled; None if there is none.

    Parameters
    ----------
    text : str
        As typed.

    Examples
    --------
    >>> route_named("Same terminal pd"), route_named("symmetry")
    ('same terminal p.d.', 'by symmetry')
    """

    def bare(words: str) -> str:
        return " ".join(words.lower().replace(".", "").split()).removeprefix("by ")

    return next((route for route in ROUTES if bare(route) == bare(text)), None)


def argument(
    worlds: Worlds, sought: Sought, *, route: str | None = None, numbers: bool = False
) -> Derivation | Unfitting:
    """The argument for a block: by the route named, else by the first that fits.

    Parameters
    ----------
    worlds : Worlds
        Of the lesson.
    sought : Sought
        What is to be derived.
    route : str, optional
        In place of the block's own.
    numbers : bool
        End with the numbers of the circuit at hand; a block ``with numbers`` does in any case.

    Returns
    -------
    Derivation or Unfitting
        Unfitting gives the reason.
    """
    if sought.place.circuit is None:
        return Unfitting(route or "", "no circuit is on the board")
    named = route or (sought.block.route.text.strip() if sought.block.route else None)
    if named is None:
        fitting = [fit.route for fit in offers(worlds, sought) if fit.fits]
        if not fitting:
            return Unfitting("", f"no route leads to {' and '.join(sought.targets)}")
        named = fitting[0]
    return derive(
        worlds.at(sought.place),
        sought.targets,
        route_named(named) or named,
        group=sought.group,
        lets=worlds.definitions.lets,
        briefly="briefly" in sought.block.manner,
        values=sought.place.circuit.values if numbers or "with numbers" in sought.block.manner else None,
    )


def offers(worlds: Worlds, sought: Sought) -> tuple[Fit, ...]:
    """Every route, those to offer first in front; imagined shorts step aside where cells could do harm.

    Parameters
    ----------
    worlds : Worlds
        Of the lesson.
    sought : Sought
        What is to be derived.
    """
    if sought.place.circuit is None:
        return tuple(Fit(route, fits=False, why_not="no circuit is on the board") for route in ROUTES)
    return propose(
        worlds.at(sought.place),
        sought.targets,
        group=sought.group,
        lets=worlds.definitions.lets,
        tier=tier_of(dangers(sought.place.circuit)),
    )


def sought_in(walk: Walk) -> tuple[Sought, ...]:
    """Every derive block of a lesson.

    Parameters
    ----------
    walk : Walk
        Of the lesson.
    """
    source = walk.lesson.source
    return tuple(
        Sought(visit.element, visit.place, source.position(visit.element.span.start)[0])
        for visit in walk.visits
        if isinstance(visit.element, Derive)
    )


def target_block(target: str) -> Derive | tuple[Finding, ...]:
    """What a target typed on the command line asks for, read like the headline of a derive block.

    Parameters
    ----------
    target : str
        ``E_p, r_p of both``, perhaps with ``by`` and a route.

    Examples
    --------
    >>> target_block("E_p, r_p of both").group.text
    'both'
    """
    page, _ = read_page(Source("target", f"```derive {' '.join(target.replace('`', ' ').split())}\n```\n"))
    found = (getattr(each, "content", None) for each in chunks(page, 0, len(page.rows)))
    fence = next((each for each in found if isinstance(each, Fence)), None)
    assert fence is not None
    block, findings = read_derive(page, fence)
    return findings or block


def unfit(walk: Walk, worlds: Worlds) -> Iterator[Finding]:
    """What is wrong with blocks that the tool shall fill.

    Parameters
    ----------
    walk : Walk
        Of the lesson.
    worlds : Worlds
        Of the lesson.

    Yields
    ------
    Finding
        ``unfit-route``, unless the block's names or its route are unknown: that is told already.
    """
    for sought in sought_in(walk):
        named = sought.block.route
        world = worlds.at(sought.place)
        unknown = sought.place.circuit is None or any(
            world.means(target) is None for target in sought.targets
        )
        if sought.block.steps or unknown or (named and route_named(named.text) is None):
            continue
        found = argument(worlds, sought)
        if isinstance(found, Derivation):
            continue
        near = [fit.route for fit in offers(worlds, sought) if fit.fits]
        said = f"The route {found.route} does not fit {sought.words()}: {found.why}" if named else found.why
        facts = {"said": said[:1].upper() + said[1:]} | ({"near": near[0]} if near else {})
        yield Finding(KINDS["unfit-route"], named.span if named else sought.block.span, facts)

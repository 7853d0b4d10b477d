"""Pages made from templates: all text escaped, no inline script, the week as navigation."""

from __future__ import annotations

from functools import cache
from itertools import groupby

from jinja2 import ChoiceLoader, Environment, PackageLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import HTMLResponse

from boardproof.publish.palette import custom_properties
from boardproof.studio.guard import may
from boardproof.studio.stops import stops

__all__ = ["environment", "render", "themes"]


@cache
def environment() -> Environment:
    """The templates, ours before those of the published pages."""
    made = Environment(
        loader=ChoiceLoader([PackageLoader("boardproof.studio"), PackageLoader("boardproof.publish")]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["kind"] = lambda thing: type(thing).__name__
    made.filters["bullet"] = lambda item: getattr(item, "bullet", "")
    return made


def render(
    request: Request, template: str, *, stop: str = "", lesson: str = "", status: int = 200, **values: object
) -> HTMLResponse:
    """A page.

    Parameters
    ----------
    request : Request
        What it answers.
    template : str
        One that extends ``shell.html``.
    stop : str
        Key of the current stop.
    lesson : str
        Name of the lesson at hand, if there is one.
    status : int
        Of the answer.
    **values
        For the template.
    """
    week = [(group, list(each)) for group, each in groupby(stops(), key=lambda stop: stop.group)]
    text = environment().get_template(template).render(
        values, week=week, stop=stop, lesson=lesson, nonce=request.scope["state"]["nonce"],
        may_write=may(request.scope) == "write", allowed=may(request.scope) is not None,
    )  # fmt: skip
    return HTMLResponse(text, status)


@cache
def themes() -> str:
    """The palette as a style sheet."""
    paper, slate = custom_properties("paper"), custom_properties("slate")
    return (
        f":root{{color-scheme:light;{paper}}}"
        f"@media (prefers-color-scheme:dark){{:root{{color-scheme:dark;{slate}}}}}"
        f":root[data-theme=paper]{{color-scheme:light;{paper}}}:root[data-theme=slate]{{color-scheme:dark;{slate}}}"
    )

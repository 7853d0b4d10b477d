"""The studio: a local page in the browser in which a lesson is written, proved and built.

`serve` starts it; `app` puts it together; `guard` lets in whom it should; `workspace` and `history` look after the
files; `worker` has everything computed in another process; `live` pushes what changed; `stops` lists the pages.

Adding a page for a stop of the teacher's week
----------------------------------------------
One module a stop, here in `studio`. It makes one `stops.Stop` called ``STOP`` and nothing else is needed but its
name in `stops.MODULES`; a stop whose module is not there is absent from the navigation::

    STOP = Stop(
        key="rehearse",               # the address: /rehearse and /rehearse/LESSON
        name="Rehearse",              # what the navigation says
        group="On camera",
        routes=(
            Page("/rehearse/{lesson}", "GET", show),       # async def show(request) -> Response
            Page("/rehearse/{lesson}/take", "POST", keep, most_bytes=8_000_000),
        ),
    )

A page asks ``desk_of(request)`` for what it needs: ``.workspace`` (texts, saves), ``.worker`` (jobs by name, with
a limit of time; never compute in a route), ``.live`` (push to open pages). It answers with
``pages.render(request, "rehearse.html", ...)``: templates extend ``shell.html``, escape all text, and hold no inline
script or style. Its script and style sheet lie in ``static``, named in the template's ``more`` block. Whoever may
only look is refused every POST before a page sees it; the token, Host and Origin are checked before that. A page
that records sets ``Page(..., allow=("microphone",))``.
"""

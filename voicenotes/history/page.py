"""A swimmer's course as a page of its own, which needs no network."""

from voicenotes.feedback.environment import environment
from voicenotes.feedback.render import policy
from voicenotes.history.progress import Progress
from voicenotes.history.timeline import timeline


def progress_html(progress: Progress) -> str:
    """What became of each fault, and a drawing of each measure over the days."""
    html = environment("html")
    charts = [timeline(figure, progress.days) for figure in progress.measures]
    return html.get_template("progress.html").render(
        p=progress, charts=charts, policy=policy(html, "style.css", None)
    )

"""What day it is: read once at the edge, and handed on."""

import os
from datetime import UTC, date, datetime


def today() -> date:
    """This day; SOURCE_DATE_EPOCH (reproducible-builds.org) may say another."""
    epoch = os.environ.get("SOURCE_DATE_EPOCH", "")
    return datetime.fromtimestamp(int(epoch), UTC).date() if epoch.isdigit() else date.today()

"""Was the process lost that reads and stamps the keys?"""

from textual.message import Message


class ReaderLost(Message):
    """From now on a key's time is as late as the screens were busy: what was timed meanwhile is doubtful."""

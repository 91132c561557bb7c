"""A second opinion: another ear hears the same sound, in a process of its own.

`SecondOpinion` is a `Recogniser` around a first one. It reports what the first heard, with what
the other made of it in `Heard.opinion`; what follows from their disagreeing is for the matcher's
side to decide (`phrases/opinion.py`). Where the first tells no words before the end, the other's
stand in for them. However the other fails, the first goes on as without it.
"""

from assistant.devices.opinion.ear import WAIT_SECONDS, SecondOpinion, with_second_opinion
from assistant.devices.opinion.helper import Helper

__all__ = ["WAIT_SECONDS", "Helper", "SecondOpinion", "with_second_opinion"]

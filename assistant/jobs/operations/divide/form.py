"""What a person is asked to begin such a job: dividing."""

from __future__ import annotations

from assistant.jobs.field import count, number, pick

FIELDS = (
    pick("?divide.by", "divided by", "By a number of divisions, or by an angle?",
         "All round, or a few at an angle.", ("divisions", "angle"), usual="divisions",
         aside=True),
    count("divide.divisions", "divisions", "How many divisions?", "All the way round.", 2,
          240, given="?divide.by=divisions"),
    number("divide.angle", "angle", "How many degrees from one to the next?",
           "Turned by the head each time.", "0.01", "180", given="?divide.by=angle"),
    count("divide.count", "how many", "How many at that angle?", "Not all round.", 2, 240,
          given="?divide.by=angle"),
    pick("divide.do", "at each", "At each: mark, drill, or cut?",
         "What is done at every division.", ("mark", "drill", "cut"), usual="cut"),
)  # fmt: skip

from .audit import Audit
from .event import Event, Quarantine, Ruling
from .farm import Device, Farm, Membership
from .folded import Folded, OutlookRow
from .person import Person
from .work import NightlyTask, WorkerSeen

__all__ = [
    "Audit",
    "Device",
    "Event",
    "Farm",
    "Folded",
    "Membership",
    "NightlyTask",
    "OutlookRow",
    "Person",
    "Quarantine",
    "Ruling",
    "WorkerSeen",
]

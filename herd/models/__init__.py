from .accounts import CacheRow, Invitation, Seat, Tries
from .audit import Audit
from .blob import Blob
from .calendar import CalendarLink
from .erased import Author, Erased
from .event import Event, Quarantine, Ruling
from .farm import Device, Farm, Membership
from .farm_file import FarmFile, FilePart
from .folded import Folded, OutlookRow, ShortList
from .person import Person
from .probe import Probe
from .telling import Notice, NoticeChoice, PushSubscription, Sending
from .work import NightlyTask, WorkerSeen

__all__ = [
    "Audit",
    "Author",
    "Blob",
    "CacheRow",
    "CalendarLink",
    "Device",
    "Erased",
    "Event",
    "Farm",
    "FarmFile",
    "FilePart",
    "Folded",
    "Invitation",
    "Membership",
    "NightlyTask",
    "Notice",
    "NoticeChoice",
    "OutlookRow",
    "Person",
    "Probe",
    "PushSubscription",
    "Quarantine",
    "Ruling",
    "Seat",
    "Sending",
    "ShortList",
    "Tries",
    "WorkerSeen",
]

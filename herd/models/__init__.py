from .accounts import CacheRow, Invitation, Seat, Tries
from .audit import Audit
from .blob import Blob
from .event import Event, Quarantine, Ruling
from .farm import Device, Farm, Membership
from .folded import Folded, OutlookRow
from .person import Person

__all__ = [
    "Audit",
    "Blob",
    "CacheRow",
    "Device",
    "Event",
    "Farm",
    "Folded",
    "Invitation",
    "Membership",
    "OutlookRow",
    "Person",
    "Quarantine",
    "Ruling",
    "Seat",
    "Tries",
]

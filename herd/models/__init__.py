from .audit import Audit
from .blob import Blob
from .event import Event, Quarantine, Ruling
from .farm import Device, Farm, Membership
from .folded import Folded, OutlookRow
from .person import Person

__all__ = [
    "Audit",
    "Blob",
    "Device",
    "Event",
    "Farm",
    "Folded",
    "Membership",
    "OutlookRow",
    "Person",
    "Quarantine",
    "Ruling",
]

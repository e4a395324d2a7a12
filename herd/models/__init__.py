from .audit import Audit
from .erased import Author, Erased
from .event import Event, Quarantine, Ruling
from .farm import Device, Farm, Membership
from .folded import Folded, OutlookRow
from .person import Person
from .probe import Probe

__all__ = [
    "Audit",
    "Author",
    "Device",
    "Erased",
    "Event",
    "Farm",
    "Folded",
    "Membership",
    "OutlookRow",
    "Person",
    "Probe",
    "Quarantine",
    "Ruling",
]

"""Published science of feeding does: pure functions, one topic a file. No Django, no clock."""

VERSION = "1.9.0"

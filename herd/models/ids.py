import uuid

ID_LENGTH = 36


def new_id() -> str:
    return str(uuid.uuid4())

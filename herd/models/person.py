from __future__ import annotations

from typing import ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models.functions import Lower

from .ids import ID_LENGTH, new_id


class PersonManager(BaseUserManager["Person"]):
    def get_by_natural_key(self, username: str | None) -> Person:
        return self.get(name__iexact=username or "")

    def make(self, name: str, password: str | None) -> Person:
        person = self.model(name=" ".join(name.split()))
        person.set_password(password)
        person.save(using=self._db)
        return person


class Person(AbstractBaseUser):
    """Somebody who can sign in. What they may see hangs on memberships, never on this row."""

    id = models.CharField(primary_key=True, max_length=ID_LENGTH, default=new_id, editable=False)
    name = models.CharField(max_length=60, unique=True)
    is_active = models.BooleanField(default=True)
    made_at = models.DateTimeField(auto_now_add=True)

    objects: ClassVar[PersonManager] = PersonManager()
    USERNAME_FIELD = "name"
    REQUIRED_FIELDS: ClassVar[list[str]] = []

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(Lower("name"), name="one_person_a_name")]

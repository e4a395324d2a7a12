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
    # Blank where there is none, and never asked for: a name and a password are enough.
    email = models.EmailField(default="", blank=True)
    # What is left of the printed code that opens the account when the password is forgotten.
    recovery = models.CharField(max_length=64, default="", blank=True)
    # What a PIN for a shared phone is checked by, there and here: rounds, salt and hash, or "" for none.
    pin = models.CharField(max_length=160, default="", blank=True)
    # Her password alone is not enough: a passkey comes after it.
    second_step = models.BooleanField(default=False)

    objects: ClassVar[PersonManager] = PersonManager()
    USERNAME_FIELD = "name"
    REQUIRED_FIELDS: ClassVar[list[str]] = []

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(Lower("name"), name="one_person_a_name")]

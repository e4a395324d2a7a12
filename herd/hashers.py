from django.contrib.auth.hashers import Argon2PasswordHasher


class FarmArgon2(Argon2PasswordHasher):
    """Argon2id in 47 MiB: Django's 100 MiB and eight lanes would let eight sign-ins at once take a small machine's
    memory. OWASP's cheat sheet on password storage gives these numbers. Older hashes are made anew at sign-in."""

    time_cost = 1
    memory_cost = 47_104
    parallelism = 1

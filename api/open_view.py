from __future__ import annotations

from django.utils.decorators import method_decorator
from django.views.decorators.csrf import csrf_protect
from rest_framework.permissions import AllowAny
from rest_framework.views import APIView


# REST framework asks for the token only of who is signed in; here others write, too.
@method_decorator(csrf_protect, name="dispatch")
class OpenView(APIView):
    permission_classes = (AllowAny,)

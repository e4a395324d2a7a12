#!/bin/sh
# Commands as the server runs them: same user, same settings. For example: herd doctor
set -e
set -a; . /etc/mangerline/env; set +a
cd /var/lib/mangerline
exec setpriv --reuid=mangerline --regid=mangerline --init-groups BIN "$@"

#!/bin/sh
# Puts Mangerline on this machine for good. Run as root, on Debian; running it again changes nothing that is right.
set -eu
here=$(cd "$(dirname "$0")" && pwd)

echo "A user of its own, and folders only it can read"
id mangerline >/dev/null 2>&1 ||
	adduser --quiet --system --group --home /var/lib/mangerline --no-create-home mangerline
install -d -o mangerline -g mangerline -m 0700 /var/lib/mangerline /var/backups/mangerline
install -d -o root -g mangerline -m 0750 /etc/mangerline
[ -e /etc/mangerline/env ] || install -o root -g mangerline -m 0640 "$here/env" /etc/mangerline/env
install -m 0755 "$here/herd.sh" /usr/local/bin/herd
install -m 0644 "$here/mangerline.service" "$here/mangerline-backup.service" "$here/mangerline-backup.timer" \
	/etc/systemd/system/

running=
[ ! -d /run/systemd/system ] || running=yes

echo "A database of its own, which only that user may open"
[ -z "$running" ] || systemctl start postgresql
cd /
as_postgres() { setpriv --reuid=postgres --regid=postgres --init-groups "$@"; }
[ -n "$(as_postgres psql -XtAc "SELECT 1 FROM pg_roles WHERE rolname = 'mangerline'")" ] ||
	as_postgres createuser mangerline
[ -n "$(as_postgres psql -XtAc "SELECT 1 FROM pg_database WHERE datname = 'mangerline'")" ] ||
	as_postgres createdb -O mangerline -E UTF8 -T template0 --locale=C.UTF-8 mangerline

if [ -e "$here/house.cnf" ]; then
	echo "A root for this house's certificates, good for NAME and nothing else"
	install -d -o root -g caddy -m 0750 /etc/caddy/house
	install -d -o root -g caddy -m 0755 /etc/caddy/house/public
	if [ ! -e /etc/caddy/house/ca.key ]; then
		(umask 077 && openssl req -x509 -new -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -nodes -days 3650 \
			-config "$here/house.cnf" -keyout /etc/caddy/house/ca.key -out /etc/caddy/house/ca.crt 2>/dev/null)
	fi
	chown root:caddy /etc/caddy/house/ca.key /etc/caddy/house/ca.crt
	chmod 0640 /etc/caddy/house/ca.key
	chmod 0644 /etc/caddy/house/ca.crt
	install -m 0644 /etc/caddy/house/ca.crt /etc/caddy/house/public/house-ca.crt
	install -o mangerline -g mangerline -m 0644 /etc/caddy/house/ca.crt /var/lib/mangerline/house-ca.crt
fi

echo "The proxy"
if [ -e /etc/caddy/Caddyfile ] && ! cmp -s "$here/Caddyfile" /etc/caddy/Caddyfile; then
	cp -a /etc/caddy/Caddyfile "/etc/caddy/Caddyfile.before-$(date +%Y%m%d-%H%M%S)"
fi
install -m 0644 "$here/Caddyfile" /etc/caddy/Caddyfile
caddy validate --config /etc/caddy/Caddyfile --adapter caddyfile >/dev/null 2>&1 ||
	caddy validate --config /etc/caddy/Caddyfile --adapter caddyfile

if [ -z "$running" ]; then
	echo "systemd does not run here, so nothing was started."
	exit 0
fi
echo "Everything on, now and after each start of the machine"
systemctl daemon-reload
systemctl enable --quiet --now mangerline.service mangerline-backup.timer
systemctl enable --quiet caddy
systemctl restart caddy
for second in $(seq 60); do
	if systemctl is-active --quiet mangerline && herd doctor --only writing --only migrations >/dev/null 2>&1; then
		echo "It runs. Let the first person in:  herd add_person NAME"
		exit 0
	fi
	sleep 1
done
echo "It does not run yet. See why:  journalctl -u mangerline -n 50" >&2
exit 1

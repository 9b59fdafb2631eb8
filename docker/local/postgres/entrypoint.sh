#!/bin/bash
# Makes the cluster on the first start, then becomes the server. Ready is said once: the database is made in
# single-user mode, so that no early server answers.
set -euo pipefail

if [ "$(id -u)" = 0 ]; then
  mkdir -p "$PGDATA"
  chown -R postgres: /var/lib/postgresql
  exec setpriv --reuid=postgres --regid=postgres --clear-groups "$0" "$@"
fi

if [ ! -s "$PGDATA/PG_VERSION" ]; then
  user=${POSTGRES_USER:-postgres}
  database=${POSTGRES_DB:-$user}
  initdb --pgdata="$PGDATA" --username="$user" --encoding=UTF8 --data-checksums \
    --locale=C --locale-provider=builtin --builtin-locale=C.UTF-8 \
    --auth-local=trust --auth-host=scram-sha-256 \
    --pwfile=<(printf '%s\n' "${POSTGRES_PASSWORD:?POSTGRES_PASSWORD must be set}")
  echo 'host all all all scram-sha-256' >> "$PGDATA/pg_hba.conf"
  if [ "$database" != postgres ]; then
    echo "CREATE DATABASE \"$database\"" | postgres --single -D "$PGDATA" postgres > /dev/null
  fi
fi

exec "$@"

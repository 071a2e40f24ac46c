#!/bin/sh
# Run once by the PostgreSQL image on an empty volume: the owner of the tables, and the app's role that owns nothing.
set -eu
psql -v ON_ERROR_STOP=1 -U "$POSTGRES_USER" -d "$POSTGRES_DB" \
  -v owner_password="$IDLEWRIGHT_OWNER_PASSWORD" -v app_password="$IDLEWRIGHT_APP_PASSWORD" <<'SQL'
create role idlewright_owner login password :'owner_password';
create role idlewright_app login password :'app_password';
alter database idlewright owner to idlewright_owner;
revoke all on database idlewright from public;
grant connect on database idlewright to idlewright_app;
SQL

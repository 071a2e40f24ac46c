-- After every migration: the app's own role may work with the rows, and owns nothing.
-- Flyway fills in ${appRole}. Where owner and app share one login, or the role is missing, nothing is done.
do $$
declare
    app constant name := '${appRole}';
    append_only regclass;
begin
    if app = current_user or not exists (select from pg_roles where rolname = app) then
        return;
    end if;
    execute format('grant usage on schema public to %I', app);
    execute format('grant select, insert, update, delete on all tables in schema public to %I', app);
    execute format('grant usage on all sequences in schema public to %I', app);
    -- What counts is never edited in place: a correction is a new row that names the one it replaces.
    -- A table says so itself, by its trigger that refuses every change.
    for append_only in
        select distinct t.tgrelid::regclass
        from pg_trigger t join pg_proc f on f.oid = t.tgfoid
        where f.proname = 'refuse_change' and not t.tgisinternal
    loop
        execute format('revoke update, delete, truncate on %s from %I', append_only, app);
    end loop;
    if to_regclass('public.flyway_schema_history') is not null then
        execute format('revoke insert, update, delete on public.flyway_schema_history from %I', app);
    end if;
end
$$;

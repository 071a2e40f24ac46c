-- After every migration: the app's own role may work with the rows, and owns nothing.
-- Flyway fills in ${appRole}. Where owner and app share one login, or the role is missing, nothing is done.
do $$
declare
    app constant name := '${appRole}';
    kept record;
begin
    if app = current_user or not exists (select from pg_roles where rolname = app) then
        return;
    end if;
    execute format('grant usage on schema public to %I', app);
    execute format('grant select, insert, update, delete on all tables in schema public to %I', app);
    execute format('grant usage on all sequences in schema public to %I', app);
    -- What counts is never edited in place: a correction is a new row that names the one it replaces.
    -- A table says so itself, by its trigger that refuses every change.
    for kept in
        select t.tgrelid::regclass relation,
               bool_or(t.tgtype & 16 > 0) no_update, bool_or(t.tgtype & 8 > 0) no_delete, bool_or(t.tgtype & 32 > 0) no_truncate
        from pg_trigger t join pg_proc f on f.oid = t.tgfoid
        where f.proname = 'refuse_change' and not t.tgisinternal
        group by t.tgrelid
    loop
        if kept.no_update then execute format('revoke update on %s from %I', kept.relation, app); end if;
        if kept.no_delete then execute format('revoke delete on %s from %I', kept.relation, app); end if;
        if kept.no_truncate then execute format('revoke truncate on %s from %I', kept.relation, app); end if;
    end loop;
    if to_regclass('public.flyway_schema_history') is not null then
        execute format('revoke insert, update, delete on public.flyway_schema_history from %I', app);
    end if;
end
$$;

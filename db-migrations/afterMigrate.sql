-- After every migration: the app's own role may work with the rows, and owns nothing.
-- Flyway fills in ${appRole}. Where owner and app share one login, or the role is missing, nothing is done.
do $$
declare
    app constant name := '${appRole}';
    append_only name;
begin
    if app = current_user or not exists (select from pg_roles where rolname = app) then
        return;
    end if;
    execute format('grant usage on schema public to %I', app);
    execute format('grant select, insert, update, delete on all tables in schema public to %I', app);
    execute format('grant usage on all sequences in schema public to %I', app);
    -- What counts is never edited in place: a correction is a new row that names the one it replaces.
    foreach append_only in array array [
        'journal_entry', 'exhibit', 'exhibit_strike', 'stamp', 'reading', 'authorisation',
        'invoice', 'invoice_line', 'invoice_story', 'invoice_paper', 'payment',
        'finding', 'swap', 'swap_ground', 'swap_answer', 'swap_step', 'swap_photo', 'labour', 'correction',
        'proof', 'proof_pair', 'follow_up', 'follow_up_outcome', 'return_reason', 'answer_link', 'customer_answer'
    ] loop
        if to_regclass('public.' || append_only) is not null then
            execute format('revoke update, delete on public.%I from %I', append_only, app);
        end if;
    end loop;
    if to_regclass('public.flyway_schema_history') is not null then
        execute format('revoke insert, update, delete on public.flyway_schema_history from %I', app);
    end if;
end
$$;

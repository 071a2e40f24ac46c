-- What the pages of every day ask for, found without reading ten years again: docs/decisions/0034-found-not-searched.md.

-- Tickets that are nobody's move any more are left out of the counter, the bay and the follow-ups by an index. Which those are
-- follows from the stamps alone; a trigger says so when a stamp is set that can change it.
alter table ticket add column at_rest boolean not null default false;
comment on column ticket.at_rest is 'handed back, nothing to ask the customer about on any day, no return unexplained; kept by stamp_keeps_at_rest';

create function rests(ticket integer) returns boolean stable language sql as $$
    select exists (select from stamp s where s.ticket_number = ticket and s.kind = 'HANDED_BACK')
       and not (exists (select from stamp s where s.ticket_number = ticket and s.kind in ('HANDED_BACK', 'PUT_OFF') and s.due is not null)
            and exists (select from symptom y where y.ticket_number = ticket and not exists (select from stamp s
                where s.ticket_number = y.ticket_number and s.place = y.place and s.kind in ('WATCHED', 'DECLINED', 'RETURNED'))))
       and not exists (select from stamp s where s.ticket_number = ticket and s.kind = 'RETURNED' and not exists (select from stamp e
            where e.ticket_number = s.ticket_number and e.place = s.place and e.kind = 'EXPLAINED'))
$$;
update ticket set at_rest = true where rests(number);

create function keep_at_rest() returns trigger language plpgsql as $$
declare
    touched integer[];
begin
    select array_agg(distinct n.ticket_number) into touched from set_now n
    where n.kind in ('HEARD', 'HANDED_BACK', 'PUT_OFF', 'WATCHED', 'DECLINED', 'RETURNED', 'EXPLAINED');
    if touched is not null then
        -- Whoever stamps the same ticket meanwhile waits here, and then sees this stamp too.
        perform from ticket t where t.number = any(touched) order by t.number for no key update;
        update ticket t set at_rest = not t.at_rest where t.number = any(touched) and t.at_rest <> rests(t.number);
    end if;
    return null;
end
$$;
create trigger stamp_keeps_at_rest after insert on stamp referencing new table as set_now
    for each statement execute function keep_at_rest();
create index ticket_not_at_rest on ticket (number) where not at_rest;
-- Every ticket asks whether it came back; the page of comebacks asks for each of its threads.
create index ticket_comeback on ticket (comeback_of) where comeback_of is not null;

-- Invoices on which something is owed. Rows come and go by the triggers; what is owed is always reckoned anew from the payments.
create table owing (invoice_number text primary key references invoice);

create function keep_owing(numbers text[]) returns void language plpgsql as $$
begin
    perform from owing o where o.invoice_number = any(numbers) order by o.invoice_number for update;
    insert into owing
    select i.number from invoice i where i.number = any(numbers) and i.credits is null
        and i.total + coalesce((select sum(c.total) from invoice c where c.credits = i.number), 0)
            > coalesce((select sum(p.amount) from payment p where p.invoice_number = i.number), 0)
    on conflict do nothing;
    delete from owing o using invoice i where o.invoice_number = any(numbers) and i.number = o.invoice_number
        and i.total + coalesce((select sum(c.total) from invoice c where c.credits = i.number), 0)
            <= coalesce((select sum(p.amount) from payment p where p.invoice_number = i.number), 0);
end
$$;
do $$ begin perform keep_owing((select array_agg(number) from invoice where credits is null)); end $$;

create function invoice_owes() returns trigger language plpgsql as $$
begin
    perform keep_owing(array_agg(distinct coalesce(n.credits, n.number))) from set_now n;
    return null;
end
$$;
create function payment_pays() returns trigger language plpgsql as $$
begin
    perform keep_owing(array_agg(distinct n.invoice_number)) from set_now n where n.invoice_number is not null;
    return null;
end
$$;
create trigger invoice_keeps_owing after insert on invoice referencing new table as set_now
    for each statement execute function invoice_owes();
create trigger payment_keeps_owing after insert on payment referencing new table as set_now
    for each statement execute function payment_pays();

-- How often each finding was proved for each kind of symptom: every ticket ranks its causes by it.
create table proved_tally (
    kind text    not null,
    note text    not null,
    n    integer not null check (n >= 0),
    primary key (kind, note)
);
insert into proved_tally (kind, note, n)
select y.kind, f.note, count(*) from symptom y
join lateral (select s.note from stamp s
    where s.ticket_number = y.ticket_number and s.place = y.place and s.kind = 'TRACED' order by s.id desc limit 1) f on true
where f.note is not null
  and exists (select from stamp s where s.ticket_number = y.ticket_number and s.place = y.place and s.kind = 'PROVED')
group by y.kind, f.note;

create function tally_proved() returns trigger language plpgsql as $$
begin
    insert into proved_tally (kind, note, n)
    select y.kind, f.note, count(*) from (select distinct ticket_number, place from set_now where kind = 'PROVED') p
    join symptom y on y.ticket_number = p.ticket_number and y.place = p.place
    join lateral (select s.note from stamp s
        where s.ticket_number = y.ticket_number and s.place = y.place and s.kind = 'TRACED' order by s.id desc limit 1) f on true
    where f.note is not null and not exists (select from stamp s
        where s.ticket_number = p.ticket_number and s.place = p.place and s.kind = 'PROVED' and s.id not in (select id from set_now))
    group by y.kind, f.note order by y.kind, f.note
    on conflict (kind, note) do update set n = proved_tally.n + excluded.n;
    return null;
end
$$;
create trigger stamp_tallies_proved after insert on stamp referencing new table as set_now
    for each statement execute function tally_proved();

create function tally_kind() returns trigger language plpgsql as $$
declare
    said text;
begin
    if exists (select from stamp s where s.ticket_number = new.ticket_number and s.place = new.place and s.kind = 'PROVED') then
        select s.note into said from stamp s
        where s.ticket_number = new.ticket_number and s.place = new.place and s.kind = 'TRACED' order by s.id desc limit 1;
        if said is not null then
            update proved_tally set n = n - 1 where kind = old.kind and note = said;
            insert into proved_tally (kind, note, n) values (new.kind, said, 1)
            on conflict (kind, note) do update set n = proved_tally.n + 1;
        end if;
    end if;
    return null;
end
$$;
create trigger symptom_tallies_kind after update of kind on symptom
    for each row when (old.kind <> new.kind) execute function tally_kind();

-- Visits handed back in a span of time; the latest papers, page by page; letters somebody has to look at.
create index stamp_handed_back on stamp (at, ticket_number) where kind = 'HANDED_BACK';
create index invoice_latest on invoice (issued_at desc, number desc);
drop index invoice_issued;
create index letter_looked_at on letter (state, id) where state in ('UNSURE', 'FAILED', 'SENDING', 'WAITING');
create index swap_step_core on swap_step (swap_id) where went = 'CORE';

-- The search box: a plate without its gaps and dashes, and a VIN in capitals.
create index vehicle_bare_plate on vehicle using gin (lower(regexp_replace(coalesce(plate, ''), '[^A-Za-z0-9]', '', 'g')) gin_trgm_ops);
create index vehicle_vin on vehicle (upper(vin));
create index invoice_number_begins on invoice (number text_pattern_ops);
create index swap_fitted_begins on swap (fitted_bare text_pattern_ops);
create index swap_lot_begins on swap (lower(fitted_serial) text_pattern_ops);
create index swap_removed_begins on swap (upper(regexp_replace(coalesce(removed_number, ''), '[\s-]', '', 'g')) text_pattern_ops);
create index finding_says on finding using gin (lower(cause_name) gin_trgm_ops, lower(words) gin_trgm_ops);

-- The clock that runs is the last one that somebody started.
create index clocked_last on clocked (person_id, id) where stopped_at is null;

-- As in V17, but for tickets that do not rest only.
create or replace view follow_up_due as
select t.number, v.make || ' ' || v.model as vehicle, v.plate, c.name as customer, c.phone, c.email, c.contact_by,
       h.at as handed_back_at,
       coalesce((select p.due from stamp p where p.ticket_number = t.number and p.kind = 'PUT_OFF' and p.id > h.id order by p.id desc limit 1), h.due) as due,
       (select count(*) from follow_up f where f.ticket_number = t.number) as asked,
       exists (select from customer_answer a where a.ticket_number = t.number
           and a.at > coalesce((select max(f.at) from follow_up f where f.ticket_number = t.number), '-infinity')) as answered,
       (select string_agg(y.words, ' / ' order by y.place) from symptom y where y.ticket_number = t.number
           and not exists (select from stamp s where s.ticket_number = y.ticket_number and s.place = y.place
               and s.kind in ('WATCHED', 'DECLINED', 'RETURNED'))) as words
from ticket t
join vehicle v on v.id = t.vehicle_id
join customer c on c.id = t.customer_id
cross join lateral (select s.id, s.at, s.due from stamp s where s.ticket_number = t.number and s.kind = 'HANDED_BACK' order by s.id desc limit 1) h
where not t.at_rest and exists (select from symptom y where y.ticket_number = t.number
    and not exists (select from stamp s where s.ticket_number = y.ticket_number and s.place = y.place
        and s.kind in ('WATCHED', 'DECLINED', 'RETURNED')));

-- What an index on an expression is good for is known only once it was looked at.
analyze ticket, stamp, owing, proved_tally, invoice, letter, vehicle, swap, swap_step, finding, clocked;

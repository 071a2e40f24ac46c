-- "Ask again in n days" is a stamp with a new day: the counter's room tells whose move it is from stamps alone.
alter table stamp drop constraint if exists stamp_check;
alter table stamp add constraint stamp_check check (place is null and kind in ('OPENED', 'OFFERED', 'AGREED', 'BILLED', 'PAID', 'HANDED_BACK', 'PUT_OFF')
    or place is not null and kind in ('HEARD', 'REPRODUCED', 'TRACED', 'MENDED', 'PROVED', 'WATCHED', 'UNTRACED', 'DECLINED', 'RETURNED', 'EXPLAINED'));
insert into stamp (ticket_number, kind, at, who, due)
select f.ticket_number, 'PUT_OFF', f.at, f.who, f.again_on from follow_up f
where f.again_on is not null and not exists (select from follow_up l where l.ticket_number = f.ticket_number and l.id > f.id);

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
where exists (select from symptom y where y.ticket_number = t.number
    and not exists (select from stamp s where s.ticket_number = y.ticket_number and s.place = y.place
        and s.kind in ('WATCHED', 'DECLINED', 'RETURNED')));

-- The shop's promise may be by share: it falls evenly to nothing with the time or the distance, whichever is further gone.
alter table terms add column part_falling boolean not null default false;
alter table terms add column labour_falling boolean not null default false;
alter table terms add column words text not null default '' check (length(words) <= 2000);

-- What the supplier or the maker promises on a part that was fitted; the latest of a giver counts.
create table part_terms (
    id       bigint generated always as identity primary key,
    swap_id  bigint      not null references swap,
    giver    text        not null check (giver in ('SUPPLIER', 'MAKER')),
    months   integer     not null check (months between 0 and 240),
    distance numeric(9, 1) check (distance > 0),
    unit     text        not null check (unit in ('km', 'mi')),
    falling  boolean     not null,
    labour   boolean     not null,
    source   text        not null check (length(source) between 1 and 400),
    at       timestamptz not null,
    who      text        not null
);
create index part_terms_swap on part_terms (swap_id, id);

-- When a vehicle first went into use, as somebody said it, and the odometer at the time of asking; the latest counts.
create table service_start (
    id         bigint generated always as identity primary key,
    vehicle_id bigint        not null references vehicle,
    began      date          not null,
    distance   numeric(9, 1) not null check (distance >= 0),
    unit       text          not null check (unit in ('km', 'mi')),
    source     text          not null check (length(source) between 1 and 400),
    at         timestamptz   not null,
    who        text          not null
);
create index service_start_vehicle on service_start (vehicle_id, id);

-- The terms as they are printed on an invoice: frozen with it.
create table invoice_terms (
    invoice_number text    not null references invoice,
    nr             integer not null,
    words          text    not null,
    primary key (invoice_number, nr)
);

-- What became of the old part that is to go back for its core charge, and of the money: rows with who and when.
create table core_step (
    id      bigint generated always as identity primary key,
    swap_id bigint        not null references swap,
    kind    text          not null check (kind in ('CHARGED', 'RETURNED', 'CREDITED', 'WRITTEN_OFF')),
    amount  numeric(12, 2) check (amount > 0),
    day     date          not null,
    note    text          not null check (length(note) <= 400),
    at      timestamptz   not null,
    who     text          not null,
    check ((kind in ('CHARGED', 'CREDITED')) = (amount is not null))
);
create index core_step_swap on core_step (swap_id, id);

do $$
declare t text;
begin
    foreach t in array array['part_terms', 'service_start', 'invoice_terms', 'core_step'] loop
        execute format('create trigger %I before update or delete on %I for each row execute function refuse_change()', t || '_never_changes', t);
        execute format('create trigger %I before truncate on %I for each statement execute function refuse_change()', t || '_never_emptied', t);
    end loop;
end $$;

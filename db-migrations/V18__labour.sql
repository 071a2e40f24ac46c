-- What an hour of which kind of work costs the customer and the shop, and how clocked time becomes hours on paper.
-- A card is never edited: what was charged keeps the price it was charged at.
create table work_card (
    id        bigint generated always as identity primary key,
    rounding  text        not null check (rounding in ('EXACT', 'TENTH', 'QUARTER')),
    cost_rate numeric(12, 2) check (cost_rate >= 0),
    at        timestamptz not null,
    who       text        not null
);
-- A kind without a rate goes at the shop's hour.
create table work_kind (
    card_id bigint  not null references work_card,
    nr      integer not null,
    name    text    not null check (length(name) between 1 and 60),
    rate    numeric(12, 2) check (rate >= 0),
    primary key (card_id, nr),
    unique (card_id, name)
);
with card as (insert into work_card (rounding, at, who) values ('TENTH', '2026-01-01', 'the system') returning id)
insert into work_kind (card_id, nr, name) select card.id, k.nr, k.name
from card, (values (1, 'Diagnosis'), (2, 'Mechanical'), (3, 'Electrical'), (4, 'Programming')) k (nr, name);

-- A clock that a technician started at a car. It runs until its stop; a correction is a new row that names the one it replaces.
create table clocked (
    id            bigint generated always as identity primary key,
    ticket_number integer     not null,
    place         integer     not null,
    kind          text        not null check (length(kind) between 1 and 60),
    person_id     bigint      not null,
    technician    text        not null,
    started_at    timestamptz not null,
    stopped_at    timestamptz check (stopped_at > started_at),
    replaces      bigint unique references clocked,
    reason        text check (length(reason) between 1 and 400),
    at            timestamptz not null,
    who           text        not null,
    foreign key (ticket_number, place) references symptom,
    check ((replaces is null) = (reason is null)),
    check ((replaces is null) = (stopped_at is null))
);
create index clocked_ticket on clocked (ticket_number, id);
create index clocked_person on clocked (person_id, started_at);

create table clock_stop (
    clocked_id bigint primary key references clocked,
    at         timestamptz not null,
    who        text        not null
);

-- Every span that counts, with its length in seconds; without an end while it runs.
create view clock_span as
select c.id, c.ticket_number, c.place, c.kind, c.person_id, c.technician, c.started_at,
       coalesce(c.stopped_at, s.at) as stopped_at,
       extract(epoch from coalesce(c.stopped_at, s.at) - c.started_at)::bigint as seconds,
       c.replaces, c.reason, c.who
from clocked c left join clock_stop s on s.clocked_id = c.id
where not exists (select from clocked r where r.replaces = c.id);

-- Labour that was taken from the clock: the kind of work, the seconds, and which spans they are.
alter table labour add column kind text check (length(kind) between 1 and 60);
alter table labour add column seconds bigint check (seconds > 0);
alter table labour add column cost numeric(12, 2) check (cost >= 0);
create table labour_span (
    clocked_id bigint primary key references clocked,
    labour_id  bigint not null references labour
);
create index labour_span_labour on labour_span (labour_id);

do $$
declare t text;
begin
    foreach t in array array['work_card', 'work_kind', 'clocked', 'clock_stop', 'labour_span'] loop
        execute format('create trigger %I before update or delete on %I for each row execute function refuse_change()', t || '_never_changes', t);
        execute format('create trigger %I before truncate on %I for each statement execute function refuse_change()', t || '_never_emptied', t);
    end loop;
end $$;

-- What the shop promises on its own work, the sealed evidence of a thread, and what it claims back from suppliers.

-- Terms are never edited: a visit keeps those that held when the car went back. Months 0 means no warranty; a missing
-- distance means that only the time counts.
create table terms (
    id              bigint generated always as identity primary key,
    part_months     integer     not null check (part_months between 0 and 120),
    part_distance   numeric(9, 1) check (part_distance > 0),
    labour_months   integer     not null check (labour_months between 0 and 120),
    labour_distance numeric(9, 1) check (labour_distance > 0),
    unit            text        not null check (unit in ('km', 'mi')),
    holds_from      timestamptz not null,
    set_by          text        not null
);
-- A start that the owner replaces by the shop's own promise; common practice, no source.
insert into terms (part_months, part_distance, labour_months, labour_distance, unit, holds_from, set_by)
values (12, 20000, 12, 20000, 'km', '-infinity', 'the system');

-- The public halves of the keys that this shop has sealed with; the private one lies in a home folder.
create table seal_key (
    fingerprint text        primary key check (fingerprint ~ '^[0-9a-f]{64}$'),
    pem         text        not null,
    first_used  timestamptz not null
);

-- Sealed evidence of one thread; its two files lie in the dossiers folder under their SHA-256.
create table dossier (
    code           text        primary key check (code ~ '^D-[0-9]+-[0-9]+-v[0-9]+$'),
    ticket_number  integer     not null,
    place          integer     not null,
    version        integer     not null check (version > 0),
    replaces       text        unique references dossier,
    sealed_at      timestamptz not null,
    sealed_by      text        not null,
    named          boolean     not null,
    originals      boolean     not null,
    vehicle        text        not null,
    complaint      text        not null,
    pdf_sha256     text        not null check (pdf_sha256 ~ '^[0-9a-f]{64}$'),
    pdf_size       bigint      not null,
    zip_sha256     text        not null check (zip_sha256 ~ '^[0-9a-f]{64}$'),
    zip_size       bigint      not null,
    journal_head   text        not null check (journal_head ~ '^[0-9a-f]{64}$'),
    fingerprint    text        not null references seal_key,
    foreign key (ticket_number, place) references symptom,
    unique (ticket_number, place, version),
    check ((version = 1) = (replaces is null))
);
create index dossier_sealed on dossier (sealed_at desc, code);

-- Money asked back from the one who sold a part or gave a promise.
create table claim (
    id            bigint generated always as identity primary key,
    ticket_number integer        not null references ticket,
    place         integer        not null check (place >= 0),
    supplier      text           not null check (length(supplier) between 1 and 120),
    part          text           not null check (length(part) between 1 and 200),
    swap_id       bigint         references swap,
    dossier_code  text           references dossier,
    amount        numeric(12, 2) not null check (amount > 0),
    currency      char(3)        not null,
    made_at       timestamptz    not null,
    made_by       text           not null
);
create index claim_ticket on claim (ticket_number);

-- How far a claim has come: rows with who and when, never edited.
create table claim_step (
    id       bigint generated always as identity primary key,
    claim_id bigint         not null references claim,
    kind     text           not null check (kind in ('SENT', 'GRANTED', 'REFUSED', 'PAID', 'DROPPED')),
    amount   numeric(12, 2) check (amount > 0),
    note     text           not null check (length(note) <= 1000),
    at       timestamptz    not null,
    who      text           not null,
    check ((kind in ('GRANTED', 'PAID')) = (amount is not null))
);
create index claim_step_claim on claim_step (claim_id, id);

do $$
declare t text;
begin
    foreach t in array array['terms', 'seal_key', 'dossier', 'claim', 'claim_step'] loop
        execute format('create trigger %I before update or delete on %I for each row execute function refuse_change()', t || '_never_changes', t);
        execute format('create trigger %I before truncate on %I for each statement execute function refuse_change()', t || '_never_emptied', t);
    end loop;
end $$;

-- Who did what, append-only and hash-chained; and the files kept as evidence.

-- For every table whose rows count once they are written, in this room and in later ones:
--   create trigger reading_stands before update or delete on reading for each row execute function refuse_change();
--   create trigger reading_stands_whole before truncate on reading for each statement execute function refuse_change();
create function refuse_change() returns trigger language plpgsql as $$
begin
    raise exception 'rows of % are never changed', tg_table_name
        using errcode = 'restrict_violation', hint = 'A correction is a new row that names the one it replaces.';
end
$$;

create table journal_entry (
    id            bigint primary key check (id > 0),
    at            timestamptz not null,
    person_id     bigint references person (id),
    person        text not null check (person <> ''),
    kind          text not null check (kind <> '' and length(kind) <= 60),
    ticket        integer,
    sentence      text not null check (sentence <> ''),
    -- canonical JSON (RFC 8785), kept as text because the hash is over these very bytes; facts::jsonb to ask it
    facts         text not null check (facts like '{%}'),
    previous_hash text not null check (previous_hash ~ '^[0-9a-f]{64}$'),
    hash          text not null check (hash ~ '^[0-9a-f]{64}$')
);
create unique index journal_entry_follows_one on journal_entry (previous_hash);
create index journal_entry_of_ticket on journal_entry (ticket, id) where ticket is not null;
create index journal_entry_of_verification on journal_entry (id) where kind = 'verification';

create trigger journal_entry_stands before update or delete on journal_entry
    for each row execute function refuse_change();
create trigger journal_entry_stands_whole before truncate on journal_entry
    for each statement execute function refuse_change();

-- The last entry. Its row lock puts the entries of all terminals and instances in one order without gaps.
create table journal_head (
    id      smallint primary key default 1 check (id = 1),
    last_id bigint not null check (last_id >= 0),
    hash    text not null check (hash ~ '^[0-9a-f]{64}$')
);
insert into journal_head (last_id, hash) values (0, repeat('0', 64));

create function refuse_step_back() returns trigger language plpgsql as $$
begin
    if new.last_id <= old.last_id then
        raise exception 'the head of the journal only moves on' using errcode = 'restrict_violation';
    end if;
    return new;
end
$$;
create trigger journal_head_moves_on before update on journal_head
    for each row execute function refuse_step_back();
create trigger journal_head_stays before delete on journal_head
    for each row execute function refuse_change();
create trigger journal_head_stays_whole before truncate on journal_head
    for each statement execute function refuse_change();

-- A kept file; its bytes lie in the exhibits folder under their SHA-256.
create table exhibit (
    id         bigint generated always as identity primary key,
    sha256     text not null check (sha256 ~ '^[0-9a-f]{64}$'),
    name       text not null check (name <> '' and length(name) <= 200),
    mime       text not null,
    size       bigint not null check (size > 0),
    ticket     integer not null,
    place      integer check (place > 0),
    what       text not null check (what <> '' and length(what) <= 60),
    caption    text not null check (length(caption) <= 400),
    kept_by_id bigint references person (id),
    kept_by    text not null,
    kept_at    timestamptz not null
);
create index exhibit_of_ticket on exhibit (ticket, id);
create trigger exhibit_stands before update or delete on exhibit
    for each row execute function refuse_change();
create trigger exhibit_stands_whole before truncate on exhibit
    for each statement execute function refuse_change();

-- An exhibit that was put to the wrong ticket or shows the wrong thing: struck out, still kept.
create table exhibit_strike (
    exhibit_id   bigint primary key references exhibit (id),
    reason       text not null check (reason <> '' and length(reason) <= 400),
    struck_by_id bigint references person (id),
    struck_by    text not null,
    struck_at    timestamptz not null
);
create trigger exhibit_strike_stands before update or delete on exhibit_strike
    for each row execute function refuse_change();
create trigger exhibit_strike_stands_whole before truncate on exhibit_strike
    for each statement execute function refuse_change();

-- Whether the prices of a ticket hold their tax. Kept with its first estimate or charge: when the owner changes how the shop
-- prices, what a customer has agreed to stays the sum that it was.
create table ticket_prices (
    ticket_number integer     primary key references ticket,
    prices        text        not null check (prices in ('BEFORE_TAX', 'WITH_TAX')),
    at            timestamptz not null
);
insert into ticket_prices (ticket_number, prices, at)
select t.number,
       coalesce((select i.prices from invoice i where i.ticket_number = t.number and i.credits is null order by i.issued_at limit 1), r.prices),
       now()
from ticket t cross join rates r
where exists (select from estimate e where e.ticket_number = t.number) or exists (select from charge c where c.ticket_number = t.number);

-- The dossier that a claim goes out with may be sealed after the claim was written; the latest row counts.
create table claim_dossier (
    id           bigint generated always as identity primary key,
    claim_id     bigint      not null references claim,
    dossier_code text        not null references dossier,
    at           timestamptz not null,
    who          text        not null
);
create index claim_dossier_claim on claim_dossier (claim_id, id);

-- Notes on stamps, captions and words on pictures are the shop's; where they name somebody who wants to be forgotten they go blank.
-- The app's role may not change these rows: it asks the owner's function, which takes words of forgotten customers only.
alter table exhibit alter caption drop not null;
alter table image_mark alter words drop not null;
drop trigger stamp_never_changes on stamp;
create trigger stamp_never_changes before update on stamp for each row
    when (new.note is not null or to_jsonb(old) - 'note' <> to_jsonb(new) - 'note') execute function refuse_change();
create trigger stamp_stays before delete on stamp for each row execute function refuse_change();
drop trigger exhibit_stands on exhibit;
create trigger exhibit_never_changes before update on exhibit for each row
    when (new.caption is not null or to_jsonb(old) - 'caption' <> to_jsonb(new) - 'caption') execute function refuse_change();
create trigger exhibit_stands before delete on exhibit for each row execute function refuse_change();
drop trigger image_mark_never_changes on image_mark;
create trigger image_mark_never_changes before update on image_mark for each row
    when (new.words is not null or to_jsonb(old) - 'words' <> to_jsonb(new) - 'words') execute function refuse_change();
create trigger image_mark_stays before delete on image_mark for each row execute function refuse_change();

create function take_words_away(whose text, which bigint) returns void
language plpgsql security definer set search_path = public, pg_temp as $$
declare
    visit integer;
begin
    visit := case whose
        when 'stamp' then (select s.ticket_number from stamp s where s.id = which)
        when 'exhibit' then (select e.ticket from exhibit e where e.id = which)
        when 'mark' then (select e.ticket from image_mark m join exhibit e on e.id = m.exhibit_id where m.id = which)
    end;
    if not exists (select from ticket t join customer c on c.id = t.customer_id
            where t.number = visit and c.anonymous_at is not null) then
        raise exception 'words are taken away when the customer is forgotten' using errcode = 'restrict_violation';
    end if;
    update stamp set note = null where whose = 'stamp' and id = which;
    update exhibit set caption = null where whose = 'exhibit' and id = which;
    update image_mark set words = null where whose = 'mark' and id = which;
end
$$;

do $$
declare t text;
begin
    foreach t in array array['ticket_prices', 'claim_dossier'] loop
        execute format('create trigger %I before update or delete on %I for each row execute function refuse_change()', t || '_never_changes', t);
        execute format('create trigger %I before truncate on %I for each statement execute function refuse_change()', t || '_never_emptied', t);
    end loop;
end $$;

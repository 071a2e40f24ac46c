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
alter table exhibit alter caption drop not null;
alter table image_mark alter words drop not null;
drop trigger stamp_never_changes on stamp;
create trigger stamp_only_goes_blank before update on stamp for each row execute function refuse_all_but_blanking('note');
create trigger stamp_stays before delete on stamp for each row execute function refuse_change();
drop trigger exhibit_stands on exhibit;
create trigger exhibit_only_goes_blank before update on exhibit for each row execute function refuse_all_but_blanking('caption');
create trigger exhibit_stands before delete on exhibit for each row execute function refuse_change();
drop trigger image_mark_never_changes on image_mark;
create trigger image_mark_only_goes_blank before update on image_mark for each row execute function refuse_all_but_blanking('words');
create trigger image_mark_stays before delete on image_mark for each row execute function refuse_change();

do $$
declare t text;
begin
    foreach t in array array['ticket_prices', 'claim_dossier'] loop
        execute format('create trigger %I before update or delete on %I for each row execute function refuse_change()', t || '_never_changes', t);
        execute format('create trigger %I before truncate on %I for each statement execute function refuse_change()', t || '_never_emptied', t);
    end loop;
end $$;

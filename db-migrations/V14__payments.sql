-- Money of a customer that stands for no invoice: a deposit on a ticket, or what was paid too much. One row moves money once:
--   method other than CREDIT: between the till and an invoice, or (invoice_number null) the customer's credit
--   method CREDIT:            between the customer's credit and an invoice
-- Above 0 towards the invoice or the credit, below 0 back. ticket_number: the money is a deposit on that ticket.
alter table payment
    alter invoice_number drop not null,
    add customer_id   bigint  references customer,
    add ticket_number integer references ticket,
    add refunds       bigint  references payment,
    add together      bigint  references payment,
    add booked        date,
    drop constraint payment_method_check;
alter table payment disable trigger payment_never_changes;
update payment p set customer_id = t.customer_id,
       booked = (p.at at time zone coalesce((select zone from shop limit 1), 'UTC'))::date
from invoice i join ticket t on t.number = i.ticket_number where i.number = p.invoice_number;
alter table payment enable trigger payment_never_changes;
alter table payment
    alter customer_id set not null,
    alter booked set not null,
    add constraint payment_method_check check (method in ('CASH', 'CARD', 'TRANSFER', 'OTHER', 'CREDIT')),
    add constraint payment_credit_is_for_an_invoice check (invoice_number is not null or method <> 'CREDIT'),
    add constraint payment_refund_goes_back check (refunds is null or amount < 0);
create index payment_customer on payment (customer_id);
create index payment_ticket on payment (ticket_number) where ticket_number is not null;
create index payment_booked on payment (booked);
create index payment_refunds on payment (refunds) where refunds is not null;

-- Taken off at issue; whose debt it is; and the day it counts for, where the day of its issue was closed already.
alter table invoice add deposit numeric(14, 3) not null default 0, add booked date, add customer_id bigint references customer;
alter table invoice disable trigger invoice_never_changes;
update invoice i set customer_id = t.customer_id,
       booked = (i.issued_at at time zone coalesce((select zone from shop limit 1), 'UTC'))::date
from ticket t where t.number = i.ticket_number;
alter table invoice enable trigger invoice_never_changes;
alter table invoice alter booked set not null, alter customer_id set not null;
create index invoice_customer on invoice (customer_id);
create index invoice_booked on invoice (booked);

-- A day that was counted and closed; nothing is booked on it any more.
create table day_close (
    day          date           primary key,
    currency     char(3)        not null,
    opening      numeric(14, 3) not null check (opening >= 0),
    cash_in      numeric(14, 3) not null,
    cash_out     numeric(14, 3) not null,
    counted      numeric(14, 3) not null check (counted >= 0),
    banked       numeric(14, 3) not null check (banked between 0 and counted),
    words        text,
    journal_head text           not null,
    at           timestamptz    not null,
    who          text           not null,
    check (counted = opening + cash_in - cash_out or length(words) > 0)
);
do $$
declare t text;
begin
    foreach t in array array['day_close'] loop
        execute format('create trigger %I before update or delete on %I for each row execute function refuse_change()', t || '_never_changes', t);
        execute format('create trigger %I before truncate on %I for each statement execute function refuse_change()', t || '_never_emptied', t);
    end loop;
end $$;

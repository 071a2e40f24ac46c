-- Currencies with three decimals; the views that look at these columns are made again by R__insight_views.sql.
do $$
declare v record;
begin
    for v in select viewname from pg_views where schemaname = current_schema() and viewname like 'insight%' loop
        execute format('drop view if exists %I cascade', v.viewname);
    end loop;
    for v in
        select c.table_name, c.column_name from information_schema.columns c
        where c.table_schema = current_schema() and c.numeric_precision = 12 and c.numeric_scale = 2
          and c.table_name in ('rates', 'estimate_line', 'authorisation', 'charge', 'invoice', 'invoice_line', 'payment',
                               'offer_answer_group', 'swap', 'claim', 'claim_step')
    loop
        execute format('alter table %I alter column %I type numeric(14, 3)', v.table_name, v.column_name);
    end loop;
end $$;

-- Tax by kind of line, how it is rounded, and whether prices hold it already.
alter table rates
    add tax_fees   numeric(6, 3) not null default 0 check (tax_fees between 0 and 100),
    add tax_sublet numeric(6, 3) not null default 0 check (tax_sublet between 0 and 100),
    add prices     text          not null default 'BEFORE_TAX' check (prices in ('BEFORE_TAX', 'WITH_TAX')),
    add rounding   text          not null default 'INVOICE' check (rounding in ('INVOICE', 'LINE'));
update rates set tax_fees = tax_parts, tax_sublet = tax_labour;

-- Who pays no tax, by which number, why, since when.
alter table customer
    add exempt_number text,
    add exempt_reason text,
    add exempt_since  date,
    add check (num_nulls(exempt_number, exempt_reason, exempt_since) in (0, 3));

-- What an issued invoice says about the shop, the tax and the terms is its own. What was issued before reads as it did: the
-- words of the day of this migration, by which it was shown until now, become its own. Added as defaults, because a row
-- that was issued is never updated.
do $$
declare
    r rates%rowtype;
    s record;
begin
    select * into r from rates;
    select coalesce(max(name), '') as name, coalesce(max(address), '') as address, coalesce(max(phone), '') as phone,
           coalesce(max(tax_number), '') as tax_number into s from shop;
    execute format('alter table invoice add tax_name text not null default %L', r.tax_name);
    execute format('alter table invoice add foot text not null default %L', r.foot);
    execute format('alter table invoice add seller_name text not null default %L', s.name);
    execute format('alter table invoice add seller_address text not null default %L', s.address);
    execute format('alter table invoice add seller_phone text not null default %L', s.phone);
    execute format('alter table invoice add seller_tax_number text not null default %L', s.tax_number);
end $$;
alter table invoice
    alter tax_name drop default, alter foot drop default, alter seller_name drop default, alter seller_address drop default,
    alter seller_phone drop default, alter seller_tax_number drop default,
    add prices        text not null default 'BEFORE_TAX' check (prices in ('BEFORE_TAX', 'WITH_TAX')),
    add rounding      text not null default 'INVOICE' check (rounding in ('INVOICE', 'LINE')),
    add exempt_number text,
    add exempt_reason text,
    add check (num_nulls(exempt_number, exempt_reason) in (0, 2));
alter table invoice alter prices drop default, alter rounding drop default;
comment on column invoice_line.net is 'each times quantity, as the invoice prices it: before tax, or with tax where invoice.prices says so';

-- The tax of each rate as it was issued. Left off: the tax that prices held and that an exempt customer does not pay.
create table invoice_tax (
    invoice_number text           not null references invoice,
    percent        numeric(6, 3)  not null,
    net            numeric(14, 3) not null,
    tax            numeric(14, 3) not null,
    left_off       numeric(14, 3) not null default 0,
    primary key (invoice_number, percent)
);
insert into invoice_tax (invoice_number, percent, net, tax)
select l.invoice_number, l.tax_percent, sum(l.net), round(sum(l.net) * l.tax_percent / 100,
       case when i.currency in ('BIF', 'CLP', 'DJF', 'GNF', 'ISK', 'JPY', 'KMF', 'KRW', 'PYG', 'RWF', 'UGX', 'UYI', 'VND', 'VUV',
                                'XAF', 'XOF', 'XPF') then 0 else 2 end)
from invoice_line l join invoice i on i.number = l.invoice_number
group by l.invoice_number, l.tax_percent, i.currency;
create trigger invoice_tax_never_changes before update or delete on invoice_tax for each row execute function refuse_change();
create trigger invoice_tax_never_emptied before truncate on invoice_tax for each statement execute function refuse_change();

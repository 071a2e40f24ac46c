-- What else an invoice says, as it stood when it was issued: what was to become of the old parts, and which key the shop
-- sealed with.
create table invoice_besides (
    invoice_number text primary key references invoice,
    old_parts      text not null,
    key_print      text,
    email          text not null
);

-- The shop's electronic invoices (EN 16931); off until the owner wants them. One row.
create table e_invoice_set_up (
    id              integer primary key default 1 check (id = 1),
    wanted          boolean not null default false,
    country         text    not null default '' check (country ~ '^([A-Z]{2})?$'),
    vat_id          text    not null default '',
    tax_number      text    not null default '',
    email           text    not null default '',
    buyer_reference text    not null default '',
    untaxed_because text    not null default '',
    version         integer not null default 0,
    check (not wanted or (country <> '' and (vat_id <> '' or tax_number <> '')))
);
insert into e_invoice_set_up default values;

-- The electronic invoice as it travels within the paper.
create table invoice_xml (
    invoice_number text primary key references invoice,
    xml            text     not null,
    sha256         char(64) not null
);

do $$
declare t text;
begin
    foreach t in array array['invoice_besides', 'invoice_xml'] loop
        execute format('create trigger %I before update or delete on %I for each row execute function refuse_change()', t || '_never_changes', t);
        execute format('create trigger %I before truncate on %I for each statement execute function refuse_change()', t || '_never_emptied', t);
    end loop;
end $$;

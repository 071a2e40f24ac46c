-- An invoice may be taken back in parts: several credit notes, until nothing is left. A line of a credit note bears the number
-- (nr) of the line of the invoice that it credits; the notes issued until now are mirrors and do so already.
alter table invoice drop constraint invoice_credits_key;
create index invoice_credits on invoice (credits) where credits is not null;
comment on column invoice_line.nr is 'the place on the paper; on a credit note the nr of the credited line of the invoice';

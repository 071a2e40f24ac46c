-- The paper of an estimate as it was put to the customer.
create table estimate_paper (
    estimate_id bigint      primary key references estimate,
    pdf         bytea       not null,
    sha256      text        not null check (sha256 ~ '^[0-9a-f]{64}$'),
    at          timestamptz not null
);
create trigger estimate_paper_never_changes before update or delete on estimate_paper for each row execute function refuse_change();
create trigger estimate_paper_never_emptied before truncate on estimate_paper for each statement execute function refuse_change();

-- A form that was sent, and what it was answered: the same form sent again gets the same answer.
create table submission (
    key         uuid primary key,
    path        text        not null,
    fingerprint char(64)    not null,
    answer      text,
    at          timestamptz not null
);
create index submission_at on submission (at);

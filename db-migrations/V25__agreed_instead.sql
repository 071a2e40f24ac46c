-- A newer, cheaper estimate that is agreed takes the place of the sum agreed before for the repair.
alter table authorisation drop constraint authorisation_kind_check;
alter table authorisation add constraint authorisation_kind_check check (kind in ('DIAGNOSIS', 'REPAIR', 'RISE', 'INSTEAD'));

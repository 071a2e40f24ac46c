-- Who had declined a repair and agreed to it later on the same estimate wants it: until now only the order of two stamps said so.
alter table stamp drop constraint if exists stamp_check; -- R__stamp_kinds.sql makes it anew
insert into stamp (ticket_number, place, kind, at, who, note)
select distinct on (r.ticket_number, r.place) r.ticket_number, r.place, 'WANTED', o.at, o.taken_by, 'agreed after it was declined'
from stamp r
join estimate e on e.ticket_number = r.ticket_number
join offer_answer o on o.estimate_id = e.id and o.at > r.at
join offer_answer_group g on g.answer_id = o.id and g.place = r.place and g.agreed
where r.kind = 'REFUSED'
order by r.ticket_number, r.place, o.at desc;

-- A car whose complaint came back was not healthy: until now its readings after that repair stayed in the known-good library.
insert into known_good_strike (known_good_id, reason, at, who)
select k.id, 'The complaint came back.', now(), 'Idlewright'
from known_good k
where exists (select from measurement_symptom m
    join stamp s on s.ticket_number = m.ticket_number and s.place = m.place and s.kind = 'RETURNED'
    where m.measurement_id = k.measurement_id)
and not exists (select from known_good_strike s where s.known_good_id = k.id);

-- What a room reads of the tables of the rooms before it. Here and in R__insight_views.sql only do the tables of rooms meet; the
-- columns of a view say what a room needs of another.
drop view if exists proved_cause;

drop view if exists clock_line;

-- A time by the clock with the car it was spent on, and the labour it became.
create view clock_line as
select s.*, v.make || ' ' || v.model as vehicle, l.labour_id
from clock_span s
join ticket t on t.number = s.ticket_number
join vehicle v on v.id = t.vehicle_id
left join labour_span l on l.clocked_id = s.id;

drop view if exists swap_photo_kept;

-- The photos of a swap that still count, each with its file.
create view swap_photo_kept as
select p.swap_id, p.part, e.*
from swap_photo p join exhibit e on e.id = p.exhibit_id
where not exists (select from exhibit_strike s where s.exhibit_id = e.id);

drop view if exists promised_part;
drop view if exists promised_line;
drop view if exists visit_left;

-- A visit whose car had gone back, with the odometer on leaving, else on coming.
create view visit_left as
select t.number, t.vehicle_id, t.opened_at, back.at as back_at, billed.at as billed_at, o.distance, o.unit
from ticket t
join lateral (select s.at from stamp s where s.ticket_number = t.number and s.kind = 'HANDED_BACK'
    order by s.id desc limit 1) back on true
left join lateral (select s.at from stamp s where s.ticket_number = t.number and s.kind = 'BILLED'
    order by s.id desc limit 1) billed on true
left join lateral (select d.distance, d.unit from odometer d where d.vehicle_id = t.vehicle_id
    and d.ticket_number = t.number and d.moment in ('IN', 'OUT')
    order by d.moment desc, d.id desc limit 1) o on true;

-- What was charged at such a visit and is promised to last.
create view promised_line as
select l.*, c.id as charge_id, c.place, c.kind, c.what, c.part_number
from visit_left l
join charge c on c.ticket_number = l.number and c.kind in ('PART', 'LABOUR', 'SUBLET')
    and not exists (select from charge_strike s where s.charge_id = c.id);

-- A part that was fitted for good at such a visit, with what its supplier or maker promises.
create view promised_part as
select l.number, l.vehicle_id, l.opened_at, l.back_at, l.distance as left_distance, l.unit as left_unit,
       p.*, s.what, s.fitted_number, s.fitted_supplier, s.fitted_maker
from visit_left l
join swap s on s.ticket_number = l.number
    and exists (select from swap_step e where e.swap_id = s.id and e.kind = 'FINAL')
join part_terms p on p.swap_id = s.id
    and not exists (select from part_terms n where n.swap_id = p.swap_id and n.giver = p.giver and n.id > p.id);

drop view if exists payer;

-- Who paid, by name, for the bookkeeper.
create view payer as select c.id, c.name from customer c;

drop view if exists log_kept;

-- The logs of a test that still count, each with its file.
create view log_kept as
select l.measurement_id, e.*
from measurement_log l join exhibit e on e.id = l.exhibit_id
where not exists (select from exhibit_strike s where s.exhibit_id = e.id);

drop view if exists part_promise;

-- What the supplier or the maker of a part promises last, with the names on the part.
create view part_promise as
select p.*, s.what, s.fitted_number, s.fitted_supplier, s.fitted_maker, s.ticket_number
from part_terms p join swap s on s.id = p.swap_id
where not exists (select from part_terms n where n.swap_id = p.swap_id and n.giver = p.giver and n.id > p.id);

drop view if exists core_part;

-- An old part that went back as core, or for which something was noted as such.
create view core_part as
select s.id as swap_id, s.ticket_number, s.what, s.removed_number, s.fitted_supplier, w.at as since
from (select swap_id from swap_step where went = 'CORE' union select swap_id from core_step) c
join swap s on s.id = c.swap_id
join lateral (select e.went, e.at from swap_step e where e.swap_id = s.id and e.kind = 'WENT' order by e.id desc limit 1) w on true
where w.went = 'CORE' or exists (select from core_step c where c.swap_id = s.id);

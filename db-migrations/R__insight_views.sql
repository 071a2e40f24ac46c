-- What the owner's page reads. Here and in R__room_views.sql only do the tables of several rooms meet. Made again after V13,
-- which widens the columns of money.
drop view if exists insight_comeback_cost;
drop view if exists insight_part;
drop view if exists insight_thread;

-- One row for each thread that had ended when its car was handed back. What the customer chose to leave is no promise and is
-- not counted. A thread came back when it was stamped so, or when a visit was opened for it.
create view insight_thread as
select y.ticket_number, y.place, y.kind, y.words,
       v.make || ' ' || v.model as vehicle, v.plate,
       back.at as handed_back_at,
       m.proved, f.cause, f.cause_name,
       m.technician_id, m.technician,
       least(m.returned_at, again.opened_at) as returned_at,
       why.reason, why.words as reason_words,
       again.comeback_number
from (select h.ticket_number, h.at from stamp h where h.kind = 'HANDED_BACK' and not exists (select from stamp e
    where e.ticket_number = h.ticket_number and e.kind = 'HANDED_BACK' and e.id < h.id)) back
join symptom y on y.ticket_number = back.ticket_number
join ticket t on t.number = y.ticket_number
join vehicle v on v.id = t.vehicle_id
left join lateral (select g.cause, g.cause_name from finding g
    where g.ticket_number = y.ticket_number and g.place = y.place
      and not exists (select from finding l where l.replaces = g.id) order by g.id desc limit 1) f on true
-- All stamps of the thread at once: asked kind by kind, the page of twenty thousand threads spends its time here.
cross join lateral (select coalesce(bool_or(s.kind = 'PROVED'), false) as proved, bool_or(s.kind = 'UNTRACED') as untraced,
        bool_or(s.kind = 'DECLINED') as declined, min(s.at) filter (where s.kind = 'RETURNED') as returned_at,
        (array_agg(s.person_id order by s.id desc) filter (where s.kind = 'MENDED'))[1] as technician_id,
        (array_agg(s.who order by s.id desc) filter (where s.kind = 'MENDED'))[1] as technician
    from stamp s where s.ticket_number = y.ticket_number and s.place = y.place) m
left join lateral (select c.comeback_number, n.opened_at from comeback_visit c join ticket n on n.number = c.comeback_number
    where c.ticket_number = y.ticket_number and c.place = y.place order by n.opened_at, n.number limit 1) again on true
left join lateral (select w.reason, w.words from return_reason w
    where w.ticket_number = y.ticket_number and w.place = y.place order by w.id desc limit 1) why on true
where (m.proved or m.untraced) and not m.declined;

-- Parts that were fitted for good, with when the car was last handed back.
create view insight_part as
select w.ticket_number, w.place, w.what, w.fitted_number as number, w.fitted_maker as maker, w.fitted_supplier as supplier,
       w.fitted_serial as lot, back.at as handed_back_at
from stamp back join swap w on w.ticket_number = back.ticket_number
where back.kind = 'HANDED_BACK' and not exists (select from stamp l
    where l.ticket_number = back.ticket_number and l.kind = 'HANDED_BACK' and l.id > back.id)
  and exists (select from swap_step e where e.swap_id = w.id and e.kind = 'FINAL');

-- What a visit cost that a comeback made necessary, before tax: its symptoms that came back and what was done for the whole visit.
-- Free hours are labour at nil and what was clocked without becoming labour; free work is what of it was priced when it was done.
create view insight_comeback_cost as
select n.comeback_number,
       coalesce((select sum(round(c.quantity * c.each, 2)) from charge c
           where c.ticket_number = n.comeback_number and (c.place = 0 or c.place = any(n.places))
             and not exists (select from charge_strike k where k.charge_id = c.id)), 0) as charged,
       coalesce((select sum(coalesce(l.seconds / 3600.0, l.hours)) from labour l
           where l.ticket_number = n.comeback_number and l.place = any(n.places) and l.free_because is not null), 0)
         + coalesce((select sum(k.seconds) / 3600.0 from clock_span k
           where k.ticket_number = n.comeback_number and k.place = any(n.places) and k.stopped_at is not null
             and not exists (select from labour_span m where m.clocked_id = k.id)), 0) as free_hours,
       coalesce((select sum(l.cost) from labour l
           where l.ticket_number = n.comeback_number and l.place = any(n.places) and l.free_because is not null), 0) as free_work,
       coalesce((select sum(coalesce(l.seconds / 3600.0, l.hours)) from labour l
           where l.ticket_number = n.comeback_number and l.place = any(n.places) and l.free_because is not null and l.cost is not null), 0) as priced_hours,
       coalesce((select sum(w.fitted_cost) from swap w
           where w.ticket_number = n.comeback_number and w.place = any(n.places) and w.free_because is not null
             and not exists (select from swap_step e where e.swap_id = w.id and e.kind = 'TAKEN_BACK')), 0) as free_parts
from (select comeback_number, array_agg(comeback_place) as places from comeback_visit group by comeback_number) n;

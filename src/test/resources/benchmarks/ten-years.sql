-- An invented shop with ${tickets} visits in the ten years up to now, one in a hundred still open. GrowthBenchmark fills an empty
-- database with it, as the owner of the tables and past no constraint and no trigger. Same number, same shop.
create function pg_temp.chance(what bigint, nr integer) returns double precision language sql immutable as
'select (hashint8extended(what, nr) & 1048575) / 1048576.0';
create function pg_temp.of(many text[], what bigint, nr integer) returns text language sql immutable as
'select many[1 + floor((hashint8extended(what, nr) & 1048575) / 1048576.0 * cardinality(many))::int]';

insert into shop (name, currency, zone, metric, locale, sheet) values ('Quay Road Garage', 'EUR', 'UTC', true, 'en-GB', 'A4');
update rates set tax_labour = 20, tax_parts = 20, tax_fees = 20, tax_sublet = 20, due_days = 14;
insert into person (name, sign_in, password_hash, hired_at) values
    ('Odile Farrow', 'odile', 'none', now() - interval '11 years'), ('Tamsin Vale', 'tamsin', 'none', now() - interval '11 years'),
    ('Bram Oakley', 'bram', 'none', now() - interval '9 years'), ('Wren Holloway', 'wren', 'none', now() - interval '11 years');
insert into person_role (person_id, role) select id, r from person, unnest(array['OWNER', 'WRITER', 'TECHNICIAN']) r where sign_in in ('odile', 'tamsin');
insert into person_role (person_id, role) select id, 'TECHNICIAN' from person where sign_in = 'bram';
insert into person_role (person_id, role) select id, 'WRITER' from person where sign_in = 'wren';
insert into instrument (name, kind, percent_of_reading, digits, resolution, resolution_unit, made_at)
    values ('Bench meter', 'METER', 0.5, 2, 0.01, 'V', now() - interval '11 years');

-- Names: 80 x 400 of two syllables each, so that a first name is common and a whole name rare.
create temp table parts as select
    array['Ines','Teodor','Maud','Per','Ruth','Anselm','Brida','Cato','Dilys','Edda','Fenn','Greta','Hal','Iola','Jonas','Kit',
          'Lene','Milo','Nora','Otis','Petra','Quin','Rolf','Senna','Tove','Ulla','Vico','Willa','Yara','Zeno'] as first,
    array['Brack','Cald','Dun','Ember','Fair','Gren','Hazel','Iron','Kestrel','Lark','Mossy','North','Orch','Pell','Quill','Raven',
          'Stone','Thorn','Under','Wester'] as front,
    array['ford','ley','well','wick','bury','more','stead','gate','ham','water','field','bridge','cote','dale','holt','mere','rick','sen','strand','ton'] as back,
    array['Brightwater','Halden','Marlow','Tern','Corvane','Ostrel'] as makes,
    array['Finch','Heron','Larch','Sable','Comet','Ridge','Cove','Spruce','Argo','Vela'] as models,
    array['hesitation','rough-idle','stalls','lack-of-power','hard-start-cold','surge','misfire-load','lamp-on','stumble-tip-in','poor-economy'] as kinds,
    array['air-sensor-supply','air-sensor-low','air-leak','fuel-low','plugs','coil','engine-ground','throttle-dirty','egr-open','injector-restricted'] as causes,
    array['when cold','on the motorway','uphill with four aboard','at the lights','after refuelling','in the rain','pulling out of the yard','at idle'] as whens,
    array['Marlow Parts','Grand Row Supply','Tern Wholesale','Harbour Motor Factors'] as suppliers;

insert into customer (name, phone, email, address, contact_by, made_at)
select pg_temp.of(first, i, 1) || ' ' || pg_temp.of(front, i, 2) || pg_temp.of(back, i, 3)
       || case when pg_temp.chance(i, 4) < 0.5 then '-' || pg_temp.of(front, i, 5) || pg_temp.of(back, i, 6) else '' end,
       '0' || (100000000 + (pg_temp.chance(i, 7) * 899999999)::bigint),
       'c' || i || '@post.example', (1 + i % 90) || ' ' || pg_temp.of(front, i, 8) || ' Lane', 'PHONE', now() - interval '10 years'
from generate_series(1, ${tickets} / 4) i, parts;

insert into vehicle (customer_id, vin, plate, make, model, model_year, engine_family, displacement_l, cylinders, made_at)
select 1 + floor(pg_temp.chance(i, 11) * (${tickets} / 4))::int,
       upper(substr(translate(md5('vin' || i), '0o', '1a'), 1, 17)),
       upper(translate(substr(md5('pl' || i), 1, 2), '0123456789', 'ghjklmnprs')) || ' ' || (100 + (pg_temp.chance(i, 12) * 899)::int) || ' '
           || upper(translate(substr(md5('pl' || i), 3, 2), '0123456789', 'ghjklmnprs')),
       pg_temp.of(makes, i, 13), pg_temp.of(models, i, 14), 2000 + (pg_temp.chance(i, 15) * 24)::int,
       'FAM' || (pg_temp.chance(i, 16) * 200)::int, 1 + round((pg_temp.chance(i, 17) * 2)::numeric, 1), 4, now() - interval '10 years'
from generate_series(1, ${tickets} * 3 / 10) i, parts;

-- A visit: how far it has come (1 heard, 2 agreed, 3 cause found, 4 repaired, 5 proved, 6 invoiced, 7 handed back), and whether it
-- is one for what came back after an earlier one, some days to two months later.
create temp table visit as
select i, 1000 + i as number, date_trunc('minute', now() - interval '3650 days' * (1 - i / ${tickets}.0)) as at,
       1 + floor(pg_temp.chance(i, 21) * (${tickets} * 3 / 10))::int as vehicle,
       case when pg_temp.chance(i, 22) < 0.2 then 2 else 1 end as symptoms,
       case when age < 10 or age < 63 and pg_temp.chance(i, 23) < 0.5
           then 1 + floor(sqrt(pg_temp.chance(i, 24)) * 6)::int else 7 end as stage,
       case when pg_temp.chance(i, 25) < 0.04 then 1000 + i - ceil((5 + 55 * pg_temp.chance(i, 26)) * ${tickets} / 3650.0)::int end as returns,
       pg_temp.chance(i, 27) < case when age < 60 then 0.7 else 0.997 end as paid,
       pg_temp.chance(i, 28) < 0.6 as to_follow,
       pg_temp.chance(i, 29) < 0.998 as followed
from generate_series(1, ${tickets}) i, lateral (select 3650 * (1 - i / ${tickets}.0) as age) a;
create unique index on visit (number);
create index on visit (returns);
analyze visit;
update visit set returns = null where returns < 1001;
update visit v set returns = null where exists (select from visit w where w.number = v.returns and (w.stage < 7 or w.returns is not null));
update visit v set returns = null where exists (select from visit w where w.returns = v.returns and w.number < v.number);
update visit v set vehicle = w.vehicle from visit w where w.number = v.returns;
alter table visit add customer bigint, add back timestamptz, add came_back integer;
update visit v set customer = c.customer_id, back = v.at + interval '1 hour' * (4 + 44 * pg_temp.chance(i, 31)),
    came_back = (select w.number from visit w where w.returns = v.number)
from vehicle c where c.id = v.vehicle;
analyze visit;

insert into ticket (number, vehicle_id, customer_id, key_tag, opened_at, opened_by, old_parts, road_test, comeback_of)
select number, vehicle, customer, 'K' || i % 60, at, 'Wren Holloway', 'SHOW', 'YES', returns from visit order by number;
select setval('ticket_number', 1000 + ${tickets});
insert into odometer (vehicle_id, ticket_number, distance, unit, read_at, read_by, moment)
select vehicle, number, 20000 + (${tickets} - i) % 7 + i * 100000.0 / ${tickets}, 'km', at, 'Wren Holloway', 'IN' from visit
union all
select vehicle, number, 20004 + (${tickets} - i) % 7 + i * 100000.0 / ${tickets}, 'km', back, 'Wren Holloway', 'OUT' from visit where stage = 7;

create temp table thread as
select v.*, p as place, pg_temp.of(kinds, v.i * 2 + p, 41) as kind, pg_temp.of(causes, v.i * 2 + p, 42) as cause,
       case when pg_temp.chance(v.i * 2 + p, 43) < 0.9 then 'PROVED' when pg_temp.chance(v.i * 2 + p, 43) < 0.95 then 'UNTRACED' else 'DECLINED' end as ending,
       'It ' || pg_temp.of(array['stumbles','shakes','cuts out','lags','surges'], v.i * 2 + p, 44) || ' ' || pg_temp.of(whens, v.i * 2 + p, 45)
           || ' and ' || pg_temp.of(whens, v.i * 2 + p, 46) || ', since about ' || (1 + v.i % 9) || ' weeks.' as words
from visit v, parts, generate_series(1, 2) p where p <= v.symptoms;
analyze thread;
insert into symptom (ticket_number, place, kind, words, heard_at, heard_by, returns_place)
select number, place, kind, words, at, 'Wren Holloway', case when returns is not null and place = 1 then 1 end from thread order by number, place;
insert into symptom_answer (ticket_number, place, question, asks, answer)
select number, place, q.key, q.asks, pg_temp.of(q.answers, number * 2 + place, 47) from thread,
    (values ('often', 'How often?', array['every time','every day','now and then','once']), ('engine', 'Engine cold or hot?', array['cold','hot','both']),
            ('lamp', 'Is a warning lamp on?', array['off','steady','flashing'])) q (key, asks, answers);
insert into words_said (ticket_number, place, what, words, salt, digest, at, who)
select number, place, 'WORDS', words, decode(md5(words), 'hex'), encode(sha256(words::bytea), 'hex'), at, 'Wren Holloway' from thread;

insert into stamp (ticket_number, place, kind, at, person_id, who, note, due)
select number, place, kind, at, 1, 'Wren Holloway', note, due from (
    select v.number, s.nr, null::int as place, s.kind, s.at, s.note, s.due from visit v, lateral (values
        (10, 'OPENED', v.at, null, null::date, true),
        (12, 'OFFERED', v.at + interval '1 hour', 'by phone', null, v.stage >= 2),
        (13, 'AGREED', v.at + interval '1 hour', '240.00', null, v.stage >= 2),
        (20, 'BILLED', v.back, '240.00', null, v.stage >= 6),
        (21, 'PAID', v.back, '240.00', null, v.stage >= 7 and v.paid),
        (22, 'HANDED_BACK', v.back, null, case when v.to_follow then v.back::date + 7 end, v.stage >= 7)) s (nr, kind, at, note, due, yes) where s.yes
    union all
    select t.number, s.nr, t.place, s.kind, s.at, s.note, null from thread t, lateral (values
        (11, 'HEARD', t.at, null, true),
        (14, 'TRACED', t.at + interval '2 hours', initcap(replace(t.cause, '-', ' ')), t.ending = 'PROVED' and t.stage >= 3),
        (15, 'MENDED', t.at + interval '3 hours', null, t.ending = 'PROVED' and t.stage >= 4),
        (16, t.ending, t.at + interval '4 hours', null, t.ending = 'PROVED' and t.stage >= 5 or t.ending <> 'PROVED' and t.stage >= 3),
        (30, 'WATCHED', t.back + interval '8 days', null, t.stage = 7 and t.to_follow and t.followed and t.back < now() - interval '9 days'
            and not (t.came_back is not null and t.place = 1)),
        (31, 'RETURNED', t.back + interval '10 days', null, t.came_back is not null and t.place = 1),
        (32, 'EXPLAINED', t.back + interval '15 days', null, t.came_back is not null and t.place = 1 and t.back < now() - interval '40 days'))
        s (nr, kind, at, note, yes) where s.yes) s
order by number, nr, place;
insert into hand (ticket_number, person_id, who, at) select number, 2, 'Tamsin Vale', at from visit where stage between 2 and 6;

insert into return_reason (ticket_number, place, reason, words, at, who)
select number, 1, pg_temp.of(array['WRONG_DIAGNOSIS','INCOMPLETE','WORKMANSHIP','DEFECTIVE_PART','NOT_SEEN'], number, 48), 'Looked at again with the owner.',
       back + interval '15 days', 'Odile Farrow' from visit where came_back is not null and back < now() - interval '40 days';
insert into follow_up (id, ticket_number, by_link, note, at, who)
select row_number() over (order by number), number, false, 'Drives as it should.', back + interval '8 days', 'Wren Holloway'
from visit where stage = 7 and to_follow and followed and back < now() - interval '9 days';
select setval(pg_get_serial_sequence('follow_up', 'id'), (select max(id) from follow_up));
insert into follow_up_outcome (follow_up_id, ticket_number, place, outcome)
select f.id, t.number, t.place, case when t.came_back is not null and t.place = 1 then 'RETURNED' else 'STAYED_AWAY' end
from follow_up f join thread t on t.number = f.ticket_number;

-- Tests: two before the repair and one after it, two or three readings each; one in six hundred readings is corrected.
create temp table test as
select row_number() over (order by number, place, nr) as id, t.number, t.place, t.at, t.vehicle, t.cause, nr,
       case nr when 2 then 'air-flow' else 'sensor-supply' end as procedure, nr = 3 as after
from thread t, generate_series(1, 3) nr
where t.stage >= 2 and (nr < 3 or t.stage >= 5 and t.ending = 'PROVED');
insert into measurement (id, ticket_number, procedure_key, procedure_version, after_repair, technician_id, technician, instrument_id, state,
    coolant_c, motion, started_at, finished_at, finished_by)
select id, number, procedure, 1, after, 2, 'Tamsin Vale', 1, case nr when 2 then 'RUNNING' else 'KEY_ON_ENGINE_OFF' end,
       case nr when 2 then 92 end, 'PARKED', at + interval '1 hour' + interval '20 minutes' * nr, at + interval '1 hour' + interval '20 minutes' * nr + interval '9 minutes', 'Tamsin Vale'
from test;
select setval(pg_get_serial_sequence('measurement', 'id'), (select max(id) from measurement));
insert into measurement_symptom (measurement_id, ticket_number, place) select id, number, place from test;
insert into reading (measurement_id, point, kind, typed, value, unit, si, accuracy_percent, accuracy_digits, accuracy_resolution, uncertainty,
    verdict, side, reason, at, person_id, who)
select t.id, p.point, 'NUMBER', r.value::text, r.value, p.unit, r.value, 0.5, 2, 0.01, 0.05, 'NOT_JUDGED', 'NONE', 'It is held against the battery at the same moment.',
       t.at + interval '1 hour' + interval '20 minutes' * t.nr, 2, 'Tamsin Vale'
from test t join (values ('sensor-supply', 1, 'battery', 'V', 12.2, 12.8), ('sensor-supply', 2, 'supply', 'V', 10.5, 12.6),
        ('air-flow', 1, 'flow-idle', 'g/s', 2.5, 4.5), ('air-flow', 2, 'rpm-idle', 'rpm', 720, 860)) p (procedure, nr, point, unit, low, high) using (procedure),
    lateral (select round((p.low + (p.high - p.low) * pg_temp.chance(t.id, 50 + p.nr))::numeric, 2) as value) r
order by t.id, p.nr;
insert into reading (measurement_id, point, kind, typed, value, unit, si, verdict, side, reason, at, person_id, who, replaces, replace_reason)
select measurement_id, point, kind, typed, value, unit, si, verdict, side, reason, at + interval '1 minute', 2, 'Tamsin Vale', id, 'misread'
from reading where id % 600 = 0;
insert into known_good (reading_id, measurement_id, engine_family, vehicle_id, procedure_key, point, spot, value, unit, si, ticket_number, place, at, who)
select r.id, t.id, v.engine_family, t.vehicle, t.procedure, r.point, 0, r.value, r.unit, r.si, t.number, t.place, r.at, 'Tamsin Vale'
from test t join vehicle v on v.id = t.vehicle join reading r on r.measurement_id = t.id and r.replaces is null
where t.after and pg_temp.chance(t.id, 53) < 0.25;

-- Money.
insert into estimate (id, ticket_number, issue, made_at, made_by, offered_at, offered_by, offered_how)
select i, number, 1, at, 'Wren Holloway', at, 'Wren Holloway', 'by phone' from visit where stage >= 2;
select setval(pg_get_serial_sequence('estimate', 'id'), ${tickets});
insert into estimate_line (estimate_id, place, kind, what, quantity, each, nr, part_number)
select v.i, 1, l.kind, l.what, l.quantity, l.each, l.nr, l.part from visit v,
    (values (1, 'LABOUR', 'Renew the joint', 0.8, 110, null), (2, 'PART', 'air-flow sensor', 1, 104, 'AF-2210-7')) l (nr, kind, what, quantity, each, part) where stage >= 2;
insert into authorisation (ticket_number, kind, amount, words, channel, by_whom, estimate_id, at, taken_by)
select number, 'REPAIR', 260, 'Go ahead.', 'PHONE', 'the customer', i, at + interval '1 hour', 'Wren Holloway' from visit where stage >= 2;
insert into charge (ticket_number, place, kind, what, quantity, each, cost, part_number, at, who)
select v.number, 1, l.kind, l.what, l.quantity, l.each, l.cost, l.part, v.at + interval '3 hours', 'Tamsin Vale' from visit v,
    (values (1, 'DIAGNOSIS', 'Diagnosis', 1, 8, null, null), (2, 'LABOUR', 'Renewed the joint', 0.8, 110, null, null), (3, 'PART', 'air-flow sensor', 1, 104, 80, 'AF-2210-7'))
    l (nr, kind, what, quantity, each, cost, part) where stage >= 4 order by v.number, l.nr;
insert into invoice (number, series, sequence, ticket_number, issued_at, issued_by, due, currency, net, tax, total, customer, address, vehicle,
    distance, journal_head, tax_name, prices, rounding, seller_name, seller_address, seller_phone, seller_tax_number, foot, booked, customer_id)
select 'A-' || lpad(nr::text, greatest(5, length(nr::text)), '0'), 'A', nr, x.number, back, 'Wren Holloway', back::date + 14, 'EUR', 200, 40, 240, c.name, c.address,
       h.make || ' ' || h.model || ', ' || h.plate, '48,200 km', repeat('0', 64), 'Tax', 'BEFORE_TAX', 'INVOICE', 'Quay Road Garage', '', '', '', '', back::date, c.id
from (select v.*, row_number() over (order by back, number) as nr from visit v where stage >= 6) x
join customer c on c.id = x.customer join vehicle h on h.id = x.vehicle order by nr;
insert into invoice_counter (series, value) select 'A', max(sequence) from invoice;
insert into invoice_line (invoice_number, nr, place, kind, what, quantity, each, net, tax_percent, part_number)
select i.number, l.nr, 1, l.kind, l.what, l.quantity, l.each, round(l.quantity * l.each, 2), 20, l.part from invoice i,
    (values (1, 'DIAGNOSIS', 'Diagnosis', 1, 8, null), (2, 'LABOUR', 'Renewed the joint', 0.8, 110, null), (3, 'PART', 'air-flow sensor', 1, 104, 'AF-2210-7'))
    l (nr, kind, what, quantity, each, part);
insert into invoice_tax (invoice_number, percent, net, tax) select number, 20, net, tax from invoice;
insert into invoice_story (invoice_number, nr, place, chapter, title, said, figures)
select number, 1, 1, 'CAUSE', 'Cause', 'The sensor''s supply was low: green joint behind the battery.', '[]' from invoice;
insert into invoice_besides (invoice_number, old_parts, key_print, email) select number, 'Shown', null, '' from invoice;
-- Paper is there, or the app would draw it all at its start.
insert into invoice_paper (invoice_number, pdf, sha256) select number, '%PDF-1.7', encode(sha256('%PDF-1.7'), 'hex') from invoice;
insert into payment (invoice_number, amount, method, at, who, customer_id, booked)
select i.number, i.total, pg_temp.of(array['CASH','CARD','CARD','CARD','TRANSFER'], i.sequence, 61), i.issued_at, 'Wren Holloway', i.customer_id, i.booked
from invoice i join visit v on v.number = i.ticket_number where v.stage = 7 and v.paid order by i.sequence;
insert into payment (invoice_number, amount, method, at, who, customer_id, booked)
select i.number, 100, 'CARD', i.issued_at, 'Wren Holloway', i.customer_id, i.booked
from invoice i join visit v on v.number = i.ticket_number where v.stage = 7 and not v.paid and i.sequence % 3 = 0;
insert into payment (ticket_number, amount, method, at, who, customer_id, booked)
select number, 50, 'CASH', at, 'Wren Holloway', customer, at::date from visit where stage between 2 and 5 and i % 5 = 0;
insert into day_close (day, currency, opening, cash_in, cash_out, counted, banked, journal_head, at, who)
select d.day, 'EUR', 100, c.cash, 0, 100 + c.cash, c.cash, repeat('0', 64), d.day + interval '18 hours', 'Odile Farrow'
from (select generate_series(current_date - 3640, current_date - 2, interval '1 day')::date as day) d,
    lateral (select coalesce(sum(amount), 0) as cash from payment p where p.booked = d.day and p.method = 'CASH') c where extract(dow from d.day) > 0;

-- Repairs, proofs, parts.
insert into finding (ticket_number, place, cause, cause_name, plain, words, correction, at, who)
select number, place, cause, initcap(replace(cause, '-', ' ')), 'A wire was bad.', 'green joint behind the battery', 'Renew the joint', at + interval '2 hours', 'Tamsin Vale'
from thread where stage >= 3 and ending = 'PROVED';
insert into swap (id, ticket_number, place, what, removed_number, removed_maker, removed_condition, fitted_number, fitted_bare, fitted_maker, fitted_serial,
    fitted_supplier, fitted_cost, trial, price, free_because, at, who)
select row_number() over (order by number, place), number, place, 'air-flow sensor', 'AF-2210-7', 'Halden', 'oil film', 'AF-' || number % 400, 'AF' || number % 400,
       'Halden', 'L-' || number % 900, pg_temp.of(suppliers, number, 71), 80, false, case when returns is null then 104 end,
       case when returns is not null then 'warranty' end, at + interval '3 hours', 'Tamsin Vale'
from thread, parts where stage >= 4 and ending = 'PROVED' and pg_temp.chance(number * 2 + place, 72) < 0.5;
select setval(pg_get_serial_sequence('swap', 'id'), (select max(id) from swap));
insert into swap_step (swap_id, kind, went, words, at, who)
select s.id, k.kind, case when k.kind = 'WENT' then case when s.id % 5 = 0 then 'CORE' else 'SCRAP' end end, '', s.at, 'Tamsin Vale'
from swap s, (values (1, 'WENT'), (2, 'FINAL')) k (nr, kind) order by s.id, k.nr;
insert into core_step (swap_id, kind, amount, day, note, at, who)
select s.id, k.kind, k.amount, s.at::date + k.nr, '', s.at, 'Tamsin Vale'
from swap s, (values (1, 'CHARGED', 25), (2, 'RETURNED', null), (3, 'CREDITED', 25)) k (nr, kind, amount)
where s.id % 5 = 0 and (k.nr = 1 or s.at < now() - interval '30 days' and s.id % 400 <> 0) order by s.id, k.nr;
insert into part_terms (swap_id, giver, months, unit, falling, labour, source, at, who)
select id, 'SUPPLIER', 24, 'km', false, false, 'delivery note', at, 'Tamsin Vale' from swap where id % 2 = 0;
insert into labour (ticket_number, place, what, hours, free_because, at, who, kind)
select number, place, 'Renewed the joint', 0.8, 'counted by the charge', at + interval '3 hours', 'Tamsin Vale', 'Electrical' from thread where stage >= 4 and ending = 'PROVED';
insert into clocked (ticket_number, place, kind, person_id, technician, started_at, at, who)
select number, place, 'Diagnosis', 2, 'Tamsin Vale', at + interval '1 hour', at + interval '1 hour', 'Tamsin Vale' from thread where stage >= 3;
insert into clock_stop (clocked_id, at, who) select id, started_at + interval '40 minutes', 'Tamsin Vale' from clocked;
insert into proof (id, ticket_number, place, how, codes, monitors, road_test, statement, at, who)
select row_number() over (order by number, place), number, place, 'MEASURED', 'NONE_STORED', 'READY', 'GONE', 'The same test says that it helped.', at + interval '4 hours', 'Tamsin Vale'
from thread where stage >= 5 and ending = 'PROVED';
select setval(pg_get_serial_sequence('proof', 'id'), (select max(id) from proof));
insert into proof_pair (proof_id, nr, before_test, after_test, procedure_name, label, before_shown, before_called, after_shown, after_called, ground)
select p.id, 1, b.id, a.id, 'Air-flow sensor, supply and ground', 'Battery less supply', '1.6 V', 'too high', '0.1 V', 'within', 'common practice'
from proof p join test b on b.number = p.ticket_number and b.place = p.place and b.nr = 1
join test a on a.number = p.ticket_number and a.place = p.place and a.nr = 3;
insert into claim (ticket_number, place, supplier, part, swap_id, amount, currency, made_at, made_by)
select ticket_number, place, fitted_supplier, what, id, 80, 'EUR', at + interval '12 days', 'Wren Holloway' from swap where id % 40 = 7;
insert into claim_step (claim_id, kind, amount, note, at, who)
select c.id, k.kind, k.amount, '', c.made_at + interval '1 day' * k.nr, 'Wren Holloway'
from claim c, (values (1, 'SENT', null), (2, 'GRANTED', 80), (9, 'PAID', 80)) k (nr, kind, amount)
where c.made_at < now() - interval '40 days' and c.id % 50 <> 0 order by c.id, k.nr;

-- Paper, letters, photos, the journal.
insert into letter (customer_id, ticket_number, what, recipient, subject, body, state, tries, next_try, written_at, written_by, sent_at)
select customer, number, 'invoice', 'c@post.example', 'Your invoice', repeat('Dear customer, the paper is enclosed. ', 8), 'SENT', 1, back, back, 'Wren Holloway', back
from visit where stage = 7 and i % 2 = 0;
insert into exhibit (sha256, name, mime, size, ticket, place, what, caption, kept_by_id, kept_by, kept_at)
select encode(sha256(('x' || number)::bytea), 'hex'), 'joint.jpg', 'image/jpeg', 180000, number, 1, 'photo', 'The joint as found', 2, 'Tamsin Vale', at + interval '2 hours'
from visit where stage >= 3 and i % 4 = 0;
insert into journal_entry (id, at, person_id, person, kind, ticket, sentence, facts, previous_hash, hash)
select j.id, j.at, 2, 'Tamsin Vale', 'reading kept', j.number, 'A reading was kept on ticket ' || j.number || '.', '{"n":"' || j.id || '"}',
       case when j.id = 1 then repeat('0', 64) else encode(sha256(('j' || (j.id - 1))::bytea), 'hex') end, encode(sha256(('j' || j.id)::bytea), 'hex')
from (select row_number() over (order by v.number, nr) as id, v.number, v.at + interval '20 minutes' * nr as at
    from visit v, generate_series(1, 14) nr where nr <= 2 * v.stage) j;
update journal_head set last_id = e.id, hash = e.hash from (select id, hash from journal_entry order by id desc limit 1) e;

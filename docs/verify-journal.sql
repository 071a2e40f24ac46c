-- Is the journal as it was written? Worked out by PostgreSQL alone, without Idlewright, from what the rows say:
--
--   psql ... -f docs/verify-journal.sql
--
-- The first answer is the first bad entry and what is wrong with it; no row means that none was found. The second is the
-- number of entries and the head. Compare the head with one kept elsewhere, or look for it, as the third shows: an end that
-- was cut off, or a journal written anew as a whole, is found only so.

with walked as (
    select id, previous_hash, hash,
           lag(id, 1, 0::bigint) over in_order id_before,
           lag(hash, 1, repeat('0', 64)) over in_order hash_before,
           encode(sha256(decode(previous_hash, 'hex') || convert_to(
               '{"at":"' || to_char(at at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS')
               || case when extract(microseconds from at)::bigint % 1000000 = 0 then ''
                       when extract(microseconds from at)::bigint % 1000 = 0 then to_char(at at time zone 'UTC', '.MS')
                       else to_char(at at time zone 'UTC', '.US') end
               || 'Z","facts":' || facts
               || ',"id":' || id
               || ',"kind":' || to_json(kind)::text
               || ',"person":' || to_json(person)::text
               || ',"personId":' || coalesce(person_id::text, 'null')
               || ',"sentence":' || to_json(sentence)::text
               || ',"ticket":' || coalesce(ticket::text, 'null') || '}', 'UTF8')), 'hex') worked_out
    from journal_entry
    window in_order as (order by id)
)
select case when id > id_before + 1 then id_before + 1 else id end entry,
       case when id > id_before + 1 then 'missing'
            when previous_hash <> hash_before then 'out of place'
            else 'changed' end fault
from walked
where id <> id_before + 1 or previous_hash <> hash_before or worked_out <> hash
order by id
limit 1;

select count(*) entries, max(id) last_entry, (select hash from journal_entry order by id desc limit 1) head
from journal_entry;

-- select id, at from journal_entry where hash = 'the 64 characters from an invoice';

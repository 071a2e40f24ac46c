-- The marks that a ticket (no place) and a thread (a place) can carry. Rooms add to them at different times, so the list
-- stands here, as the last word, and not in the migration of whoever came last.
alter table stamp drop constraint if exists stamp_check;
alter table stamp add constraint stamp_check check (
    place is null and kind in ('OPENED', 'OFFERED', 'AGREED', 'BILLED', 'PAID', 'OWED', 'HANDED_BACK', 'PUT_OFF')
    or place is not null and kind in ('HEARD', 'REPRODUCED', 'TRACED', 'REFUSED', 'WANTED', 'MENDED', 'PROVED', 'WATCHED', 'UNTRACED',
        'DECLINED', 'RETURNED', 'EXPLAINED'));

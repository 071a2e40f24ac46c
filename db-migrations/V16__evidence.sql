-- What somebody drew beside a picture: the picture itself is never touched.

-- Places in percent of the picture as it is shown, from its upper left corner.
create table image_mark (
    id         bigint generated always as identity primary key,
    exhibit_id bigint        not null references exhibit,
    kind       text          not null check (kind in ('CIRCLE', 'ARROW', 'WORDS')),
    x          numeric(5, 2) not null check (x between 0 and 100),
    y          numeric(5, 2) not null check (y between 0 and 100),
    -- a point on the circle's rim, or where the arrow begins
    to_x       numeric(5, 2) check (to_x between 0 and 100),
    to_y       numeric(5, 2) check (to_y between 0 and 100),
    words      text          not null check (length(words) <= 80),
    made_by_id bigint        references person (id),
    made_by    text          not null,
    made_at    timestamptz   not null,
    check ((to_x is null) = (to_y is null)),
    check ((kind = 'WORDS') = (to_x is null)),
    check (kind <> 'WORDS' or words <> '')
);
create index image_mark_of_exhibit on image_mark (exhibit_id, id);

-- A mark taken away again: it is no longer drawn, and stays with the reason.
create table image_mark_removal (
    mark_id       bigint      primary key references image_mark,
    reason        text        not null check (reason <> '' and length(reason) <= 400),
    removed_by_id bigint      references person (id),
    removed_by    text        not null,
    removed_at    timestamptz not null
);

do $$
declare t text;
begin
    foreach t in array array['image_mark', 'image_mark_removal'] loop
        execute format('create trigger %I before update or delete on %I for each row execute function refuse_change()', t || '_never_changes', t);
        execute format('create trigger %I before truncate on %I for each statement execute function refuse_change()', t || '_never_emptied', t);
    end loop;
end $$;

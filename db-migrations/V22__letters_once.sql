-- A letter is marked before it is handed to the mail server. What was interrupted there may have been sent: nobody sends it
-- again but a person. Its Message-ID stays the same, so that mail systems can drop a double.
alter table letter
    add message_id text,
    add sending_at timestamptz,
    drop constraint letter_state_check,
    add constraint letter_state_check check (state in ('WAITING', 'SENDING', 'UNSURE', 'SENT', 'FAILED', 'WITHDRAWN', 'RESTED')),
    add constraint letter_is_marked check (state not in ('SENDING', 'UNSURE') or message_id is not null and sending_at is not null);
create index letter_being_sent on letter (sending_at) where state = 'SENDING';

-- Talks as they went: every line that was said, and what it changed.

create table talk (
    number integer primary key,
    name   text not null default '',   -- of the heap; empty until it is given one
    about  text not null,              -- what it is about, in words for a list; empty if there is nothing to carry on
    begun  text not null default '',   -- JSON of the household it began with; empty if with none
    seen   text not null               -- '2026-11-30T17:05:00', when the last line was said
) strict;

create table turn (
    talk  integer not null references talk (number) on delete cascade,
    place integer not null,            -- from 0
    said  text not null,               -- as it was typed; empty for what was done on a screen
    at    text not null,
    stood integer not null,            -- so many of the moves before it still stand
    made  text not null check (json_valid(made)),   -- the moves it added, as a JSON list
    primary key (talk, place)
) strict, without rowid;

create index talk_seen on talk (seen);

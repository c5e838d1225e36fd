-- Beds are told of day by day as vessels are. SQLite cannot change the check of a column, so the table is made anew
-- (its documentation "ALTER TABLE", section 7); foreign keys are off while a file is brought up to date.

create table vessel_anew (
    number integer primary key,
    name   text not null,
    kind   text not null check (kind in ('heap', 'bin', 'bay', 'tumbler', 'worm bin', 'fermented bucket', 'leaf heap', 'trench', 'browns', 'bed')),
    begun  text not null default '',   -- '2026-11-30'; empty if nobody said
    ended  text not null default ''    -- the day on which it was given up; empty while it is in use
) strict;

insert into vessel_anew select number, name, kind, begun, ended from vessel;
drop table vessel;
alter table vessel_anew rename to vessel;
create unique index vessel_name on vessel (name collate nocase);

-- Heaps that were kept in files of their own, each taken over once; the whole file stands here as it was.

create table old_file (
    name   text not null,              -- of the file, within the data folder
    digest text not null,              -- SHA-256 of its text, in hexadecimal
    text   text not null,
    talk   integer references talk (number) on delete set null,   -- what it became
    primary key (name, digest)
) strict, without rowid;

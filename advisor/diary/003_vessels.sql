-- Heaps, bins and other vessels, and what was told of them day by day; never what followed from it.

create table vessel (
    number integer primary key,
    name   text not null,
    kind   text not null check (kind in ('heap', 'bin', 'bay', 'tumbler', 'worm bin', 'fermented bucket', 'leaf heap', 'trench', 'browns')),
    begun  text not null default '',   -- '2026-11-30'; empty if nobody said
    ended  text not null default ''    -- the day on which it was given up; empty while it is in use
) strict;

create unique index vessel_name on vessel (name collate nocase);

create table entry (
    number     integer primary key autoincrement,   -- never given twice, so that "entry 12" stays what it was
    vessel     integer references vessel (number) on delete cascade,   -- null: of the weather, or of no vessel
    day        text not null,                       -- '2026-11-30', when it was done or seen
    at         text not null,                       -- '2026-11-30T17:05:00', when it was told
    kind       text not null,                       -- a word of advisor/diary/entries.py
    told       text not null check (json_valid(told)),
    said       text not null,                       -- the line as it was typed
    goes_into  integer references vessel (number) on delete set null,  -- where a batch was moved or joined to
    corrects   integer references entry (number) on delete set null,   -- the entry that this one puts right
    taken_back integer not null default 0 check (taken_back in (0, 1))
) strict;

create index entry_of_vessel on entry (vessel, day, number);
create index entry_goes_into on entry (goes_into, day) where goes_into is not null;

-- What was told, in its own words, as JSON of what a soil file would hold.

create table frost (
    which text primary key check (which in ('last', 'first', 'never')),
    day   text not null          -- month and day, '04-20'; empty where it never freezes
) strict, without rowid;

create table bed (
    name text primary key,
    told text not null check (json_valid(told))
) strict, without rowid;

create table soil_check (
    number  integer primary key,
    bed     text not null references bed (name) on update cascade on delete cascade,
    made_on text not null,       -- '2026-04-01'
    guide   text not null,       -- id of a guide of rules/guides.toml
    told    text not null check (json_valid(told))
) strict;

create index soil_check_of_bed on soil_check (bed, made_on);

// Schema: the tables of a notebook file, and how older files are brought up to date.
//
// The schema is a list of steps; a file says how many it has (user_version). A file with fewer is copied whole beside
// itself, dated, and then given the missing ones in one transaction. A file with more was made by a newer program and is
// left alone.
#pragma once

#include <string>
#include <vector>

#include "notebook/database.h"

namespace rollwright::notebook {

// Marks the file as a notebook ("RWGB").
inline constexpr int kApplicationId = 0x52574742;

int newest_schema();
int schema_of(Database& database);

// Makes the tables in an empty file. `steps` below newest_schema() makes a file as an older program would have.
void create_schema(Database& database, int steps = newest_schema());

// The path of the backup that was made, empty when the file was up to date. `now` dates it.
std::string bring_up_to_date(Database& database, const std::string& now);

// Refuses a file that is not a notebook, is newer than the program, or holds anything but our tables.
void require_notebook(Database& database);

// SQLite's own check of every table but the raw logs, whose every byte is proven by its hash whenever it is read; so the
// time to open does not grow with them.
void quick_check(Database& database);

// What SQLite finds in the whole file; empty when it is sound.
std::vector<std::string> full_check(Database& database);

}  // namespace rollwright::notebook

// Records to JSON: numbers in the field's unit, intervals as {"value", "pm", "low", "high"}.
#pragma once

#include "base/answer.h"
#include "base/describe.h"
#include "wire/json_text.h"

namespace rollwright::wire {

// Numbers are rounded to 12 significant digits, so that 0.1 is written as 0.1. A number that is not finite is a bug of
// ours and raises base::InternalError: NaN and infinity never leave the program.
Json write(const base::Type& type, const base::Field* field, const void* value);

template <class R>
Json write_record(const R& record) {
  return write(base::type_of<R>(), nullptr, &record);
}

// {"result": …, "warnings": […], "assumptions": […], "sources": […]}
Json write_answer(Json result, const base::Footing& footing);

// {"problems": [{"kind", "code", "where", "message", "allowed", "hint"}]}
Json write_problems(const base::Problems& problems);

}  // namespace rollwright::wire

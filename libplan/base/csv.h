// Comma-separated tables after RFC 4180: CRLF, quoted where a field holds comma, quote or line break.
//
// Reading keeps places: each field knows its line and column (characters from 1). Writing guards text
// against formula injection: a text field that begins with = + - @ tab or CR gets a leading apostrophe;
// numbers are left alone.
#pragma once
#include <cstdint>
#include <deque>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plan {

using Sink = std::function<void(std::string_view)>;

struct CsvField {
  std::string_view text;  // into the text read, or into the reader's own store where it was unescaped
  uint32_t line = 0, column = 0;
};

// Pulls one row at a time from a text that outlives it. Accepts CRLF or LF and a leading byte order mark.
class CsvReader {
 public:
  explicit CsvReader(std::string_view text);
  // The next row into `row`; false at the end or at a fault.
  bool next(std::vector<CsvField>& row);
  // What is malformed: an open quote at the end, text after a closing quote. Empty when all is well.
  const std::string& fault() const { return fault_; }
  uint32_t fault_line() const { return line_; }
  uint32_t fault_column() const { return column_; }

 private:
  CsvField quoted();
  CsvField plain();
  std::string_view text_;
  size_t at_ = 0;
  uint32_t line_ = 1, column_ = 1;
  std::deque<std::string> unescaped_;  // of the current row; addresses stay
  std::string fault_;
};

// Appends rows to a sink in blocks.
class CsvWriter {
 public:
  explicit CsvWriter(Sink sink) : sink_(std::move(sink)) {}
  CsvWriter(const CsvWriter&) = delete;
  CsvWriter& operator=(const CsvWriter&) = delete;
  ~CsvWriter() { flush(); }
  CsvWriter& text(std::string_view value);  // guarded and quoted as needed
  CsvWriter& raw(std::string_view number);  // a number or empty, written as it is
  CsvWriter& integer(int64_t value);
  CsvWriter& number(double value, int decimals);
  void end_row();
  void flush();

 private:
  void separate();
  Sink sink_;
  std::string block_;
  bool first_ = true;
};

}  // namespace plan

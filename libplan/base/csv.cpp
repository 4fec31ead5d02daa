#include "base/csv.h"

#include <fmt/core.h>
#include <fmt/format.h>

#include "base/text.h"

namespace plan {

CsvReader::CsvReader(std::string_view text) : text_(text) {
  if (text_.starts_with("\xEF\xBB\xBF")) at_ = 3;
}

bool CsvReader::next(std::vector<CsvField>& row) {
  row.clear();
  unescaped_.clear();
  if (at_ >= text_.size() || !fault_.empty()) return false;
  for (;;) {
    row.push_back(at_ < text_.size() && text_[at_] == '"' ? quoted() : plain());
    if (!fault_.empty()) return false;
    if (at_ >= text_.size()) return true;
    if (text_[at_] == ',') {
      ++at_, ++column_;
      continue;
    }
    if (text_[at_] == '\r') ++at_;
    if (at_ < text_.size() && text_[at_] == '\n') ++at_;
    ++line_, column_ = 1;
    return true;
  }
}

CsvField CsvReader::plain() {
  const size_t first = at_;
  const CsvField field{{}, line_, column_};
  while (at_ < text_.size() && text_[at_] != ',' && text_[at_] != '\n' && text_[at_] != '\r') {
    if ((static_cast<unsigned char>(text_[at_]) & 0xC0) != 0x80) ++column_;
    ++at_;
  }
  return {text_.substr(first, at_ - first), field.line, field.column};
}

CsvField CsvReader::quoted() {
  const uint32_t line = line_, column = column_;
  const size_t first = ++at_;
  ++column_;
  bool doubled = false;
  while (at_ < text_.size()) {
    if (text_[at_] == '"') {
      if (at_ + 1 >= text_.size() || text_[at_ + 1] != '"') break;
      doubled = true;
      ++at_;
    }
    if (text_[at_] == '\n') {
      ++line_, column_ = 0;
    }
    if ((static_cast<unsigned char>(text_[at_]) & 0xC0) != 0x80) ++column_;
    ++at_;
  }
  if (at_ >= text_.size()) {
    fault_ = "quoted field is not closed";
    line_ = line, column_ = column;
    return {};
  }
  std::string_view inside = text_.substr(first, at_ - first);
  ++at_, ++column_;
  if (at_ < text_.size() && text_[at_] != ',' && text_[at_] != '\n' && text_[at_] != '\r') {
    fault_ = "text after a closing quote";
    return {};
  }
  if (!doubled) return {inside, line, column};
  std::string plain_text;
  for (size_t i = 0; i < inside.size(); ++i) {
    plain_text += inside[i];
    if (inside[i] == '"') ++i;
  }
  unescaped_.push_back(std::move(plain_text));
  return {unescaped_.back(), line, column};
}

void CsvWriter::separate() {
  if (!first_) block_ += ',';
  first_ = false;
}

CsvWriter& CsvWriter::text(std::string_view value) {
  separate();
  constexpr std::string_view formula = "=+-@\t\r";
  const bool guard = !value.empty() && formula.find(value[0]) != std::string_view::npos;
  if (value.find_first_of(",\"\r\n") == std::string_view::npos) {
    if (guard) block_ += '\'';
    block_ += value;
    return *this;
  }
  block_ += guard ? "\"'" : "\"";
  for (const char c : value) {
    if (c == '"') block_ += '"';
    block_ += c;
  }
  block_ += '"';
  return *this;
}

CsvWriter& CsvWriter::raw(std::string_view number) {
  separate();
  block_ += number;
  return *this;
}

CsvWriter& CsvWriter::integer(int64_t value) {
  separate();
  fmt::format_to(std::back_inserter(block_), "{}", value);
  return *this;
}

CsvWriter& CsvWriter::number(double value, int decimals) {
  return raw(fixed(value, decimals));
}

void CsvWriter::end_row() {
  block_ += "\r\n";
  first_ = true;
  if (block_.size() > (size_t{1} << 16)) flush();
}

void CsvWriter::flush() {
  if (!block_.empty()) sink_(block_);
  block_.clear();
}

}  // namespace plan

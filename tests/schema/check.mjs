// check.mjs WITHY SOURCE: holds the JSON Schema that `withy schema` prints against the reader.
//
// 1. The schema compiles in ajv's strict mode (draft 2020-12).
// 2. Every good scenario, every shipped layer and what `withy check --effective` prints pass it.
// 3. Every tests/bad/*.yaml is refused, by the YAML parser or by the schema, unless its first line is
//    "# schema: cannot see"; then it must pass, or the mark is stale.
// 4. Damaged copies of hamlet, one value or key at a time: what the schema refuses the reader refuses.
import {execFileSync, spawnSync} from 'node:child_process'
import {mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync} from 'node:fs'
import {tmpdir} from 'node:os'
import {join} from 'node:path'
import Ajv2020 from 'ajv/dist/2020.js'
import {parse, stringify} from 'yaml'

const [withy, source] = process.argv.slice(2)
const schema = JSON.parse(execFileSync(withy, ['schema'], {encoding: 'utf8'}))
const accepts = new Ajv2020({strict: true, allowUnionTypes: true}).compile(schema)

let failures = 0
function fail(message) {
  console.error(message)
  ++failures
}

// Quantities stay text: YAML 1.2 core knows numbers, but no dates, ratios or yes and no.
function read(bytes) {
  const text = new TextDecoder('utf-8', {fatal: true}).decode(bytes)
  return parse(text, {version: '1.2', schema: 'core', uniqueKeys: true, maxAliasCount: 0})
}

// Why a file is refused; empty where it passes.
function refusal(bytes) {
  let scenario
  try {
    scenario = read(bytes)
  } catch (error) {
    return `YAML: ${error.message.split('\n')[0]}`
  }
  if (accepts(scenario)) return ''
  const first = accepts.errors[0]
  return `${first.instancePath || '/'} ${first.message}`
}

function yamlFiles(folder) {
  return readdirSync(folder).filter((name) => name.endsWith('.yaml')).sort().map((name) => join(folder, name))
}

function checkGood() {
  const good = [...yamlFiles(join(source, 'scenarios')), ...yamlFiles(join(source, 'libplan/scenario/data'))]
  for (const path of good) {
    const why = refusal(readFileSync(path))
    if (why) fail(`${path}: the schema refuses a good file: ${why}`)
  }
  for (const path of yamlFiles(join(source, 'scenarios'))) {
    const effective = spawnSync(withy, ['check', '--effective', path], {maxBuffer: 1 << 30})
    if (effective.status !== 0) fail(`${path}: withy check ends with ${effective.status}`)
    const why = refusal(effective.stdout)
    if (why) fail(`${path}: the schema refuses its effective scenario: ${why}`)
  }
  return good.length
}

function checkBad() {
  let seen = 0
  const bad = yamlFiles(join(source, 'tests/bad'))
  for (const path of bad) {
    const bytes = readFileSync(path)
    const cannotSee = bytes.toString('latin1').split('\n')[0].includes('# schema: cannot see')
    const why = refusal(bytes)
    if (why) ++seen
    if (!cannotSee && !why) fail(`${path}: the schema passes a bad scenario that is not marked`)
    if (cannotSee && why) fail(`${path}: is marked as out of sight, but refused: ${why}`)
  }
  return [bad.length, seen]
}

// --- damaged copies ---

// Each place of a document, with what stands there and a way to put something else.
function* places(node, path = '') {
  for (const key of Object.keys(node ?? {})) {
    if (typeof node !== 'object') return
    yield {path: `${path}/${key}`, parent: node, key, value: node[key]}
    if (typeof node[key] === 'object') yield* places(node[key], `${path}/${key}`)
  }
}

const replacements = [null, '', 'something', 7, -1, 0.5, 1e12, true, [], ['x', 'y'], {}, {of: 1}, '12 m', '1:4', '2027-03-01', [1, 2], [[0, 0], [9, 9]]]

function* damaged(scenario) {
  const count = [...places(scenario)].length
  for (let i = 0; i < count; ++i) {
    for (const k of [i % replacements.length, (i * 7 + 3) % replacements.length]) {
      const copy = structuredClone(scenario)
      const place = [...places(copy)][i]
      place.parent[place.key] = structuredClone(replacements[k])
      yield [`${place.path} = ${JSON.stringify(replacements[k])}`, copy]
    }
    const copy = structuredClone(scenario)
    const place = [...places(copy)][i]
    if (Array.isArray(place.parent)) continue
    place.parent[`${place.key}x`] = place.value
    delete place.parent[place.key]
    yield [`${place.path} -> ${place.key}x`, copy]
  }
}

// The seam runs one way: a schema cannot see names, ranges of amounts, or figures against each other.
function checkDamaged() {
  const scratch = mkdtempSync(join(tmpdir(), 'withy-schema-'))
  const path = join(scratch, 'copy.yaml')
  const hamlet = read(readFileSync(join(source, 'scenarios/hamlet.yaml')))
  hamlet.estate.premises.splice(3, 14)
  hamlet.estate.routes.splice(1, 3)
  Object.assign(hamlet, {
    ducts: {'tail at cabinet': '2 m', 'unit fill': {warn: '20 %'}},
    prices: {'open verge': {price: '60 EUR/m', pack: 1}},
    crews: [{name: 'All', skills: ['dig', 'lay'], people: 2}],
    calendar: {holidays: ['2027-04-02'], shift: '8 h'},
    edits: [{name: 'more spare', hold: 'layout', change: {ducts: {'spare share': '30 %'}}}]
  })
  let copies = 0, refused = 0
  for (const [what, copy] of damaged(hamlet)) {
    ++copies
    if (accepts(copy)) continue
    ++refused
    const why = `${accepts.errors[0].instancePath} ${accepts.errors[0].message}`
    writeFileSync(path, stringify(copy, {lineWidth: 0}))
    const check = spawnSync(withy, ['check', path])
    if (check.status !== 2) fail(`hamlet with ${what}: refused by the schema (${why}), but withy check ends with ${check.status}`)
  }
  rmSync(scratch, {recursive: true})
  return [copies, refused]
}

const good = checkGood()
const [bad, seen] = checkBad()
const [copies, refused] = checkDamaged()
console.log(`${good} good files, ${bad} bad ones (${seen} in sight), ${copies} damaged copies (${refused} refused by the schema)`)
if (refused < copies / 2) fail('the schema refuses too few damaged copies to be a check')
process.exit(failures ? 1 : 0)

// Names for what the service sends in short: kinds, stages, units, states, classes. And how figures and times are printed.

const UNITS = {
  degF: "°F", degC: "°C", ppm: "ppm", pH: "pH", inch: "in", foot: "ft", foot_candle: "foot-candles", lux: "lux",
  second: "s", minute: "min", hour: "h", day: "days", psi: "psi", aw: "a_w", dimensionless: "",
};
const STAGES = {
  cooking: "Cooking", reheating: "Reheating", hot_holding: "Hot holding", cold_holding: "Cold holding", cooling: "Cooling",
  receiving: "Receiving", thawing: "Thawing", time_control: "Time as a public health control", ambient: "Air of a unit",
  handwashing: "Handwashing water", manual_wash: "Wash water", manual_sanitize: "Sanitizing by hand", machine_wash: "Machine wash",
  machine_rinse: "Machine rinse", utensil_surface: "Utensil surface", sanitizer: "Sanitizer", thermometer_check: "Thermometer check",
  freezing: "Freezing", storage: "Storage", lighting: "Light", other: "Other",
};
const AGENTS = { chlorine: "chlorine", quat: "quaternary ammonium", iodine: "iodine", peracetic: "peracetic acid", lactic: "lactic acid", hot_water: "hot water" };
const CLASSES = { P: "Priority", Pf: "Priority foundation", C: "Core" };
const MARKS = { IN: "In compliance", OUT: "Out of compliance", NO: "Not observed", NA: "Not applicable" };
export const VERDICTS = {
  violates: { tone: "over", word: "Outside the limit" },
  borderline: { tone: "near", word: "On the line" },
  meets: { tone: "within", word: "Within the limit" },
  undetermined: { tone: "unknown", word: "Cannot be told yet" },
  none: { tone: "plain", word: "No limit applies" },
};
const OPERATORS = { "<=": "or below", ">=": "or above", "<": "below", ">": "above", "==": "exactly" };

export const unitName = (unit) => UNITS[unit] ?? (unit ?? "").replaceAll("_", " ");
export const stageName = (stage) => STAGES[stage] ?? sentenceCase((stage ?? "").replaceAll("_", " "));
export const agentName = (agent) => AGENTS[agent] ?? agent;
export const className = (short) => CLASSES[short] ?? short;
export const markName = (mark) => MARKS[mark] ?? mark;
export const stages = Object.entries(STAGES);

export function sentenceCase(text) {
  return text ? text[0].toUpperCase() + text.slice(1) : "";
}

/** A number as it is printed: no needless zeros, a true minus. */
export function figure(value) {
  if (value === null || value === undefined) return "";
  return String(Math.round(value * 1000) / 1000).replace("-", "−");
}

/** A quantity with its unit, such as "48.5 °F", "pH 8.2". */
export function quantity(value, unit) {
  if (unit === "pH") return `pH ${figure(value)}`;
  if (unit === "aw") return `a_w ${figure(value)}`;
  return `${figure(value)} ${unitName(unit)}`.trim();
}

/** A limit as it is printed, such as "41 °F or below"; null when there is none. */
export function limitText(check) {
  if (check?.limit === null || check?.limit === undefined) return null;
  const words = OPERATORS[check.operator];
  const amount = quantity(check.limit, check.unit);
  if (check.operator === "+-") return `to read ${amount}`;
  if (!words) return [check.operator, amount].filter(Boolean).join(" ");
  return words.startsWith("or") ? `${amount} ${words}` : `${words} ${amount}`;
}

/** The margin in words: "7.5 °F over", "at the limit", "3 °F to spare". */
export function marginText(check) {
  if (check?.margin === null || check?.margin === undefined || !check.operator) return null;
  const amount = quantity(Math.abs(check.margin), check.unit);
  if (check.operator === "+-") return check.margin === 0 ? "exact" : `${amount} off`;
  if (check.margin === 0) return "exactly at the limit";
  const failing = check.operator.startsWith("<") ? check.margin > 0 : check.margin < 0;
  if (!failing) return `${amount} to spare`;
  return check.margin > 0 ? `${amount} over` : `${amount} short`;
}

/** Seconds of a recording as "2:05", or "1:02:05" from an hour on; with tenths when asked. */
export function clockOf(seconds, { tenths = false } = {}) {
  const whole = Math.max(0, seconds ?? 0);
  const hours = Math.floor(whole / 3600);
  const minutes = Math.floor(whole / 60) % 60;
  const rest = whole % 60;
  const last = tenths ? rest.toFixed(1).padStart(4, "0") : String(Math.floor(rest)).padStart(2, "0");
  return hours ? `${hours}:${String(minutes).padStart(2, "0")}:${last}` : `${minutes}:${last}`;
}

/** An ISO time in UTC as this machine's clock has it; one with an offset of its own stays. */
function ownOffset(iso) {
  if (!/Z$/.test(iso ?? "")) return iso ?? "";
  const at = new Date(iso);
  return new Date(at.getTime() - at.getTimezoneOffset() * 60_000).toISOString().slice(0, 19);
}

/** The clock time written in an ISO time, in that time's own offset: the wall clock of the visit, not of this machine. */
export function wallTime(iso, { seconds = false } = {}) {
  const found = /T(\d\d):(\d\d)(?::(\d\d))?/.exec(ownOffset(iso));
  if (!found) return "";
  return seconds ? `${found[1]}:${found[2]}:${found[3] ?? "00"}` : `${found[1]}:${found[2]}`;
}

const MONTHS = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];
const DAYS = ["Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"];

/** The date written in an ISO time or date, such as "Monday 4 May 2026". */
export function wallDate(iso, { weekday = true } = {}) {
  const found = /^(\d{4})-(\d\d)-(\d\d)/.exec(ownOffset(iso));
  if (!found) return "";
  const [year, month, day] = found.slice(1).map(Number);
  const name = DAYS[new Date(Date.UTC(year, month - 1, day)).getUTCDay()];
  return `${weekday ? `${name} ` : ""}${day} ${MONTHS[month - 1]} ${year}`;
}

/** "1 photo", "3 photos". */
export function count(number, one, many = `${one}s`) {
  return `${number} ${number === 1 ? one : many}`;
}

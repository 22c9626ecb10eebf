//! Damages the text of a file in one of many ways, from a fixed seed: bytes, words, numbers at their edges, depth, length,
//! names twice, and letters that are none.
//!
//! What becomes of a damaged file is no matter here; that is looked at in `mutations`.

/// A plain generator of pseudo-random numbers (xorshift): which changes are made is the same each time.
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    pub(crate) fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % u64::try_from(limit.max(1)).expect("it fits")).expect("it fits")
    }

    fn one_of<T: Copy>(&mut self, list: &[T]) -> T {
        list[self.below(list.len())]
    }
}

/// What a text is replaced by.
const STRANGE: [&str; 12] = [
    "null",
    "true",
    "[]",
    "{}",
    "\"\"",
    "\" \"",
    "\"squeeze\"",
    "\"pass\"",
    "\"not-tested:seal\"",
    "\"12\"",
    "\"18446744073709551616\"",
    "\"../../a\"",
];

/// Numbers at the edges of what a field, a type or a reader takes.
const NUMBERS: [&str; 24] = [
    "0",
    "-0",
    "1",
    "-1",
    "1.0",
    "1.5",
    "00",
    "2",
    "4",
    "30",
    "31",
    "255",
    "256",
    "600",
    "601",
    "3601",
    "10001",
    "65536",
    "1000001",
    "4294967295",
    "4294967296",
    "18446744073709551616",
    "1e999",
    "-1e-999",
];

/// Written into texts: halves of letters, letters that are not seen or that turn what stands beside them, and some that are
/// long.
const LETTERS: [&str; 16] = [
    "\\ud800",
    "\\udfff",
    "\\udc00\\ud800",
    "\\ud83d\\ude00",
    "\\u0000",
    "\\u001b[2J",
    "\\u202e",
    "\\u2066",
    "\\n",
    "\u{202e}",
    "\u{200f}",
    "\u{feff}",
    "\u{2028}",
    "\u{0301}",
    "<b onclick=x>",
    "\u{1f600}",
];

/// A whole file, cut into its marks, words and blanks, and where which of them stand.
pub(crate) struct Whole {
    tokens: Vec<String>,
    all: Vec<usize>,
    words: Vec<usize>,
    numbers: Vec<usize>,
    names: Vec<usize>,
    values: Vec<usize>,
}

/// One sort of change: where it can be made, and what comes to stand there.
type Sort = (fn(&Whole) -> &[usize], fn(&Whole, usize, &mut Dice) -> String);

/// More of those that keep the shape of a file, since the others end where it is read as JSON.
const SORTS: [Sort; 12] = [
    (|whole| &whole.values, Whole::other_value),
    (|whole| &whole.values, Whole::other_value),
    (|whole| &whole.values, Whole::other_value),
    (|whole| &whole.values, Whole::strange_value),
    (|whole| &whole.values, Whole::letters),
    (|whole| &whole.numbers, Whole::other_number),
    (|whole| &whole.numbers, Whole::other_number),
    (|whole| &whole.numbers, Whole::number),
    (|whole| &whole.names, Whole::letters),
    (|whole| &whole.names, Whole::twice),
    (|whole| &whole.words, Whole::extreme),
    (|whole| &whole.all, Whole::other_token),
];

impl Whole {
    pub(crate) fn new(text: &str) -> Self {
        let tokens = cut(text);
        let places = |fits: &dyn Fn(&str) -> bool| -> Vec<usize> {
            (0..tokens.len()).filter(|place| fits(&tokens[*place])).collect()
        };
        let is_name =
            |place: usize| tokens[place + 1..].iter().find(|token| !is_blank(token)).is_some_and(|token| token == ":");
        let (names, values) = places(&is_text).into_iter().partition(|place| is_name(*place));
        Self {
            all: places(&|_| true),
            words: places(&is_word),
            numbers: places(&|token| is_word(token) && !is_text(token)),
            names,
            values,
            tokens,
        }
    }

    /// One damaged copy. One to three changes, all of one sort, so that some files keep their shape.
    pub(crate) fn damaged(&self, dice: &mut Dice) -> String {
        let changes = 1 + dice.below(3);
        if dice.below(6) == 0 {
            let mut bytes = self.tokens.concat().into_bytes();
            for _ in 0..changes {
                damage_bytes(&mut bytes, dice);
            }
            // A page reads a file as text: what is no text has become another sign by then.
            return String::from_utf8_lossy(&bytes).into_owned();
        }
        let (places, change) = dice.one_of(&SORTS);
        let places = places(self);
        let changed: Vec<(usize, String)> = (0..changes)
            .map(|_| {
                // The first words say what the file is, so they come up more often than they would.
                let among = if dice.below(4) == 0 { places.len().min(20) } else { places.len() };
                let place = places[dice.below(among)];
                (place, change(self, place, dice))
            })
            .collect();
        let mut text = String::new();
        for (place, token) in self.tokens.iter().enumerate() {
            text.push_str(changed.iter().find(|(changed, _)| *changed == place).map_or(token, |(_, new)| new));
        }
        text
    }

    /// Another text of the file.
    fn other_value(&self, _: usize, dice: &mut Dice) -> String {
        self.tokens[dice.one_of(&self.values)].clone()
    }

    fn strange_value(&self, _: usize, dice: &mut Dice) -> String {
        dice.one_of(&STRANGE).to_owned()
    }

    /// Another number of the file.
    fn other_number(&self, _: usize, dice: &mut Dice) -> String {
        self.tokens[dice.one_of(&self.numbers)].clone()
    }

    /// A number at an edge.
    fn number(&self, _: usize, dice: &mut Dice) -> String {
        dice.one_of(&NUMBERS).to_owned()
    }

    /// Strange letters somewhere in a text.
    fn letters(&self, place: usize, dice: &mut Dice) -> String {
        let text = &self.tokens[place];
        let (before, after) = text.split_at(text.floor_char_boundary(1 + dice.below(text.len() - 1)));
        format!("{before}{}{after}", dice.one_of(&LETTERS))
    }

    /// A name with a value, and then once more.
    fn twice(&self, place: usize, dice: &mut Dice) -> String {
        let name = &self.tokens[place];
        let value = if dice.below(2) == 0 { dice.one_of(&STRANGE) } else { dice.one_of(&NUMBERS) };
        format!("{name}:{value},{name}")
    }

    /// Any token of the file in place of any other, or none.
    fn other_token(&self, _: usize, dice: &mut Dice) -> String {
        if dice.below(3) == 0 { String::new() } else { self.tokens[dice.below(self.tokens.len())].clone() }
    }

    /// Something very deep or very long in place of a word; rarely over what a file may have at most.
    fn extreme(&self, place: usize, dice: &mut Dice) -> String {
        let word = &self.tokens[place];
        let many = if dice.below(50) == 0 { 300_000 } else { dice.below(400) };
        match dice.below(5) {
            0 => format!("{}{}", "[".repeat(many), "]".repeat(many)),
            1 => format!("{}1{}", "{\"a\":".repeat(many), "}".repeat(many)),
            2 => format!("\"{}\"", "a".repeat(many)),
            3 => "9".repeat(many),
            _ => format!("{word}{}", format!(",{word}").repeat(many.min(20_000))),
        }
    }
}

fn is_text(token: &str) -> bool {
    token.starts_with('"')
}

fn is_mark(token: &str) -> bool {
    matches!(token, "{" | "}" | "[" | "]" | "," | ":")
}

fn is_blank(token: &str) -> bool {
    token.starts_with([' ', '\n'])
}

fn is_word(token: &str) -> bool {
    !is_mark(token) && !is_blank(token)
}

fn cut(text: &str) -> Vec<String> {
    let mut tokens = Vec::new();
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let ends = |stops: fn(char) -> bool| rest.find(stops).unwrap_or(rest.len());
        let end = match first {
            '"' => text_length(rest),
            '{' | '}' | '[' | ']' | ',' | ':' => 1,
            ' ' | '\n' => ends(|letter| letter != ' ' && letter != '\n'),
            _ => ends(|letter| "{}[],: \n".contains(letter)),
        };
        let (token, after) = rest.split_at(end);
        tokens.push(token.to_owned());
        rest = after;
    }
    tokens
}

/// How long the text is that begins here, with its marks; what follows a stroke is a part of it.
fn text_length(rest: &str) -> usize {
    let mut letters = rest.char_indices().skip(1);
    while let Some((place, letter)) = letters.next() {
        match letter {
            '"' => return place + 1,
            '\\' => drop(letters.next()),
            _ => {}
        }
    }
    panic!("whole files have whole texts")
}

fn damage_bytes(bytes: &mut Vec<u8>, dice: &mut Dice) {
    if bytes.is_empty() {
        return;
    }
    let place = dice.below(bytes.len());
    let end = (place + dice.below(200)).min(bytes.len());
    match dice.below(6) {
        0 => bytes[place] ^= 1 << dice.below(8),
        1 => bytes[place] = b"{}[]\",:0919-eE.x \\"[dice.below(18)],
        2 => drop(bytes.remove(place)),
        3 => bytes.truncate(place.max(1)),
        4 => drop(bytes.splice(place..place, bytes[place..end].to_vec())),
        _ => drop(bytes.drain(place..end)),
    }
}

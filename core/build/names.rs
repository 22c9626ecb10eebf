//! Names of the generated items.

/// `fit.top_up` to `FitTopUp`.
pub(crate) fn camel(code: &str) -> String {
    code.split(['.', '_', '-'])
        .map(|word| {
            let mut letters = word.chars();
            letters.next().map(|first| first.to_ascii_uppercase()).into_iter().chain(letters).collect::<String>()
        })
        .collect()
}

"""Parts of the clean book: each module fills in what one family of checks looks at, by `fill(book)`."""

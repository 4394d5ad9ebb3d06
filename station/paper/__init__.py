"""Paper: PDF of batch records and labels. It gets words, drawings and codes as values and knows nothing of casts."""

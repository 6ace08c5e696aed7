"""What a class costs and brings in, and what people have paid."""

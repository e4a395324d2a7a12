"""What she needs: energy, protein, calcium and phosphorus."""

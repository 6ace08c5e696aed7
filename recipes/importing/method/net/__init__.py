"""The net under the method: what is in no step, or makes an unlikely one, becomes a doubt."""

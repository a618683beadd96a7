"""
Fits the network of a mixture to what gather.mjs wrote and chooses by sounds of other makers:

    python3 fit.py FIT CHECK --out nets.npz [--seeds 3] [--epochs 30] [--channels 64] [--again]

`--again`: the second network, from what gather.mjs wrote with the same word. Needs torch; on one GPU a seed takes about a minute. Nothing is fitted to CHECK.
"""

import argparse
import time

import numpy as np
import torch

from data import BELIEFS, EACH_FIT, HEARD, LEVELS, REACH, SCORE, WIDTH, columns, crop, load
from model import Net, folded, printed, report

parser = argparse.ArgumentParser()
parser.add_argument("fit")
parser.add_argument("check")
parser.add_argument("--out", required=True)
parser.add_argument("--seeds", type=int, default=3)
parser.add_argument("--first-seed", type=int, default=0)
parser.add_argument("--epochs", type=int, default=30)
parser.add_argument("--channels", type=int, nargs="*", default=[64])
parser.add_argument("--batch", type=int, default=512)
parser.add_argument("--rate", type=float, default=3e-3)
parser.add_argument("--again", action="store_true")
parser.add_argument("--seconds", type=float, default=1e9)
args = parser.parse_args()
device = "cuda" if torch.cuda.is_available() else "cpu"
began = time.time()
if device == "cuda":
    torch.set_float32_matmul_precision("high")


def prepared(stem, each):
    heard, score, notes = load(stem, each, args.again)
    c = columns(notes)
    put = lambda x: torch.as_tensor(x).to(device)
    c = {k: put(v) for k, v in c.items()}
    # Tops are those of the rows' groups; rows are stored against them.
    return {"heard": put(heard), "score": put(score), "notes": notes, "each": each, **c}


def shown(d, some, shift, gains=None, floor=None):
    return crop(torch, d["heard"][some], d["score"][some], d["known"][some], d["tops"][some], d["usual"][some], shift, d["each"], gains, floor)


def target(away, sigma=1.0):
    at = torch.arange(WIDTH, device=device)[None] - REACH - away[:, None]
    t = torch.exp(-0.5 * (at / sigma) ** 2)
    return t / t.sum(1, keepdim=True).clamp(min=1e-9)


fit, check = prepared(args.fit, EACH_FIT), prepared(args.check, REACH)
print(len(fit["notes"]), "notes,", len({n["item"] for n in fit["notes"]}), "takes;", len(check["notes"]), "for choosing;", round(time.time() - began), "s", flush=True)


def predict(net, d):
    net.eval()
    out = []
    with torch.no_grad():
        for i in range(0, len(d["notes"]), 2048):
            some = torch.arange(i, min(len(d["notes"]), i + 2048), device=device)
            rows, constants = shown(d, some, torch.zeros(len(some), dtype=torch.long, device=device))
            out.append(torch.softmax(net(rows, constants), 2).float().cpu())
    return torch.cat(out).numpy()


def train(seed, channels):
    torch.manual_seed(seed)
    inputs = HEARD + SCORE + (BELIEFS if args.again else 0)
    net = Net(inputs, channels).to(device)
    average = Net(inputs, channels).to(device)
    average.load_state_dict(net.state_dict())
    both = list(zip(average.state_dict().values(), net.state_dict().values()))
    averaged = [a for a, _ in both if a.dtype.is_floating_point]
    fitted = [b for _, b in both if b.dtype.is_floating_point]
    # Notes whose beat is not near at all teach nothing.
    usable = torch.nonzero(fit["away"].abs() < 60)[:, 0]
    steps = args.epochs * (len(usable) // args.batch)
    optimiser = torch.optim.AdamW(net.parameters(), lr=args.rate, weight_decay=0.02)
    schedule = torch.optim.lr_scheduler.OneCycleLR(optimiser, args.rate, total_steps=steps, pct_start=0.15)
    step = 0
    for epoch in range(args.epochs):
        net.train()
        order = usable[torch.randperm(len(usable), device=device)]
        total = 0.0
        for i in range(0, len(order) - args.batch + 1, args.batch):
            some = order[i : i + args.batch]
            n = len(some)
            wide = torch.rand(n, device=device) < 0.75
            shift = torch.where(wide, (torch.rand(n, device=device) * 2 - 1) * 25, torch.randn(n, device=device) * 4)
            away = fit["away"][some]
            # Within what is shown, with room.
            shift = torch.minimum(torch.maximum(shift, away - 42), away + 42).clamp(-25, 25).round().long()
            gains = torch.randn(n, 8, device=device) * 4 * (torch.rand(n, 1, device=device) < 0.7)
            floor = torch.where(torch.rand(n, device=device) < 0.6, -15 - 55 * torch.rand(n, device=device), torch.full((n,), -90.0, device=device))
            rows, constants = shown(fit, some, shift, gains, floor[:, None, None])
            # Now and then a partial, or what the score says, is not told.
            lost = (torch.rand(n, 8, device=device) < 0.06).repeat(1, 3)
            rows[:, :LEVELS] = torch.where(lost[:, :, None], torch.full_like(rows[:, :LEVELS], -1.5), rows[:, :LEVELS])
            told = lambda many, chance: (torch.rand(n, many, 1, device=device) > chance).float()
            rows[:, HEARD : HEARD + SCORE] *= told(1, 0.05)
            if args.again:
                rows[:, HEARD + SCORE :] *= told(BELIEFS, 0.04) * told(1, 0.04)
                rows[:, HEARD + SCORE] *= told(1, 0.2)[:, 0]
            constants = constants * (torch.rand_like(constants) > 0.05).float()
            with torch.autocast(device, torch.bfloat16, enabled=device == "cuda"):
                out = net(rows, constants)
            logp = torch.log_softmax(out.float(), 2)
            moved = away - shift
            inside = ((moved.abs() < REACH)).float()
            # Of a note that was not played every place is as likely.
            absent = fit["absent"][some][:, None]
            even = torch.full((1, WIDTH), 1 / WIDTH, device=device)
            aim = lambda at: absent * even + (1 - absent) * target(at)
            loss = -(aim(moved) * logp[:, 0]).sum(1)
            start = fit["physical"][some] - shift
            loss = loss + 0.3 * -(aim(start) * logp[:, 1]).sum(1) * (start > -REACH + 1)
            loss = (loss * inside).sum() / inside.sum()
            optimiser.zero_grad(set_to_none=True)
            loss.backward()
            torch.nn.utils.clip_grad_norm_(net.parameters(), 2.0)
            optimiser.step()
            schedule.step()
            step += 1
            keep = min(0.999, step / (step + 20))
            torch._foreach_lerp_(averaged, fitted, 1 - keep)
            total += float(loss) if step % 50 == 0 else 0.0
        if epoch % 5 == 4 or epoch == args.epochs - 1:
            p = predict(average, check)[:, 0]
            r = report(check["notes"], check["away"].cpu().numpy(), p)
            print(f"  seed {seed} channels {channels} epoch {epoch + 1}: " + "; ".join(f"{row} {f[3]:.3f} {f[6]:.2f} {f[10]:.3f}" for row, (_, f) in r.items()), round(time.time() - began), "s", flush=True)
    return average


nets, answers, everything = [], [], {}
for channels in args.channels:
    for seed in range(args.first_seed, args.first_seed + args.seeds):
        if time.time() - began > args.seconds:
            break
        net = train(seed, channels)
        p = predict(net, check)
        answers.append(p)
        nets.append((channels, seed))
        printed(f"seed {seed}, {channels} channels", report(check["notes"], check["away"].cpu().numpy(), p[:, 0]))
        weights = folded(net)
        everything |= {f"{channels}/{seed}/{k}": v for k, v in weights.items()}
        everything[f"{channels}/{seed}/p"] = p.astype(np.float16)
        np.savez_compressed(args.out, **everything)
mean = np.mean(answers, 0)
printed("mean of all", report(check["notes"], check["away"].cpu().numpy(), mean[:, 0]))
printed("mean of all, prior 50 ms", report(check["notes"], check["away"].cpu().numpy(), mean[:, 0], 50))
printed("mean of all, prior 30 ms", report(check["notes"], check["away"].cpu().numpy(), mean[:, 0], 30))
